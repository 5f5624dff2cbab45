import { flushSync, mount, unmount } from 'svelte'
import { afterEach, expect, test, vi } from 'vitest'
import App from './App.svelte'

afterEach(() => vi.unstubAllGlobals())

test('the page says so when the program does not answer', async () => {
  vi.stubGlobal('fetch', () => Promise.reject(new TypeError('refused')))
  const page = mount(App, { target: document.body })
  flushSync()
  expect(document.querySelector('h1')?.textContent).toBe('Wallwright')
  await vi.waitFor(() => expect(document.querySelector('[role=alert]')?.textContent).toContain('does not answer'))
  void unmount(page)
})

test('what is wrong with the job file is said in the engine\'s words', async () => {
  const error = { field: 'survey.wall.widths', value: '', says: 'needs at least one reading', problems: [] }
  vi.stubGlobal('fetch', () => Promise.resolve(new Response(JSON.stringify({ error }), { status: 422 })))
  const page = mount(App, { target: document.body })
  flushSync()
  await vi.waitFor(() => expect(document.querySelector('[role=alert]')?.textContent).toContain('needs at least one reading'))
  void unmount(page)
})
