import { flushSync, mount, unmount } from 'svelte'
import { afterEach, expect, test, vi } from 'vitest'
import type { State } from '../lib/api'
import Options from './Options.svelte'

afterEach(() => vi.unstubAllGlobals())

test('where no wall is sound, that is said, with what stands in the way first', async () => {
  const study = { id: 'a', kind: 'options', question: {}, state: 'done', what: '', share: 1, holds: true, files: [], error: '' }
  const answers: Record<string, unknown> = { studies: { studies: [study] }, answer: { answer: { currency: '¤', price: 1, price_shown: '¤ 1', budget: 0, options: [] } } }
  vi.stubGlobal('fetch', (address: string) => Promise.resolve(new Response(JSON.stringify(answers[address.split('/').at(-1)!] ?? {}))))
  const danger = { severity: 'danger', says: 'what the wall is made of is not known', cure: 'knock on the wall' }
  const now = { svg: '', money: { total_shown: '¤ 1', quick: false }, findings: [danger], seats: [] } as unknown as State
  const page = mount(Options, { target: document.body, props: { position: 3, now } })
  flushSync()
  await vi.waitFor(() => expect(document.body.textContent).toContain('No wall was found that has nothing left to fix.'))
  expect(document.querySelector('.told')?.textContent).toContain('First of all: what the wall is made of is not known. Knock on the wall.')
  void unmount(page)
})
