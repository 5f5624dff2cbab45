import { flushSync, mount, unmount } from 'svelte'
import { expect, test } from 'vitest'
import App from './App.svelte'

test('the page mounts and says whose it is', () => {
  const page = mount(App, { target: document.body })
  flushSync()
  expect(document.querySelector('h1')?.textContent).toBe('Wallwright')
  void unmount(page)
})
