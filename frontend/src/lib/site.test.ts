import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { me } from './me.svelte'
import { kept, Site } from './site.svelte'
import { studio } from './studio.svelte'

beforeEach(() => {
  localStorage.clear()
  me.take({ mode: 'local', name: 'you', role: 'owner', csrf: '', first: '' })
})
afterEach(() => vi.unstubAllGlobals())
const settle = () => new Promise((done) => setTimeout(done, 5))

test('without signal a reading stays on the phone, and a page opened anew still has it', async () => {
  vi.stubGlobal('fetch', () => Promise.reject(new TypeError('offline')))
  const site = new Site('a')
  site.take('set_plumb', { out_of_plumb: '4' }, 'plumb 4')
  await settle()
  expect(site.trouble).toContain('No signal')
  expect(new Site('a').waiting.map((one) => one.call)).toEqual([{ edit: 'set_plumb', with: { out_of_plumb: '4' } }])
  expect(new Site('b').waiting).toEqual([])
})

test('what the studio holds goes from the phone, what it says is told; what it did not name stays', async () => {
  vi.stubGlobal('fetch', () => Promise.reject(new TypeError('offline')))
  const site = new Site('a')
  site.take('set_plumb', { out_of_plumb: '4' }, 'plumb 4')
  site.take('set_diagonals', { rising: '5 m', falling: '5.01 m' }, 'diagonals')
  await settle()
  const [first] = site.waiting
  const state = { position: 7 }
  vi.stubGlobal('fetch', (_: string, init: RequestInit) => {
    expect(JSON.parse(String(init.body)).readings).toHaveLength(2)
    const body = { readings: [{ id: first!.id, state: 'older', says: 'a later reading of the same stands' }], state }
    return Promise.resolve(new Response(JSON.stringify(body)))
  })
  await site.send()
  expect(site.waiting.map((one) => one.says)).toEqual(['diagonals'])
  expect(site.fates[0]).toMatchObject({ what: 'plumb 4', state: 'older' })
  expect(studio.kept).toMatchObject(state)
})

test('what is spoilt on the phone is left out', () => {
  expect(kept('{broken')).toEqual([])
  expect(kept('[{"id": 4}, {"id": "x", "taken": 1, "call": {"edit": "set_plumb"}}]')).toHaveLength(1)
})
