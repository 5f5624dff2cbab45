// Keeps the page's own files in the browser, so that it opens on site without signal. It keeps no answer of the studio: what
// was measured waits on the phone itself until the studio has it.
const STORE = 'wallwright-page'

self.addEventListener('install', () => self.skipWaiting())
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()))

self.addEventListener('fetch', (event) => {
  const { request } = event
  const address = new URL(request.url)
  if (request.method !== 'GET' || address.origin !== self.location.origin || address.pathname.startsWith('/api/')) return
  const page = request.mode === 'navigate'
  const key = page ? new Request('/') : request
  event.respondWith(
    (async () => {
      const store = await caches.open(STORE)
      try {
        const answer = await fetch(request)
        if (answer.ok) await store.put(key, answer.clone())
        return answer
      } catch (problem) {
        const kept = await store.match(key)
        if (kept) return kept
        throw problem
      }
    })(),
  )
})

// The page that sent for the worker was loaded before it: it says which files to keep.
self.addEventListener('message', (event) => {
  if (!Array.isArray(event.data)) return
  const own = event.data.filter((one) => typeof one === 'string' && new URL(one, self.location.origin).origin === self.location.origin)
  event.waitUntil(caches.open(STORE).then((store) => Promise.all(own.map((one) => store.add(one).catch(() => {})))))
})
