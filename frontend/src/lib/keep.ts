/** The page's own files stay on the phone, so that it opens without signal. */
export async function keepThePage(): Promise<void> {
  if (!('serviceWorker' in navigator)) return
  try {
    await navigator.serviceWorker.register('/worker.js')
    const ready = await navigator.serviceWorker.ready
    const files = performance.getEntriesByType('resource').map((entry) => entry.name).filter((name) => name.includes('/assets/'))
    ready.active?.postMessage(['/', ...files])
  } catch {
    // a browser without workers still keeps what was measured
  }
}
