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
  const [unused] = new Site('a').unused // it is told until somebody has seen it, also on a page opened anew
  expect(unused).toMatchObject({ says: 'plumb 4', state: 'older', why: 'a later reading of the same stands' })
  vi.stubGlobal('fetch', () => Promise.reject(new TypeError('offline')))
  await settle()
  site.insist(unused!.id)
  expect([site.unused, site.waiting.map((one) => one.says)]).toEqual([[], ['diagonals', 'plumb 4']])
  expect(site.waiting.at(-1)).toMatchObject({ call: { edit: 'set_plumb', with: { out_of_plumb: '4' } } })
  expect(site.waiting.at(-1)!.id).not.toBe(unused!.id) // the studio counts each id once
  expect(studio.kept).toMatchObject(state)
})

test('a plumb grid that is begun keeps its places and what was typed, whatever the wall turns out to be', () => {
  const site = new Site('a')
  site.type({ columns: [200, 2000, 3800], rows: [2500, 1350, 200], typed: { '2000 1350': '-3' } })
  site.learn({ width: 3750, height: 2740 })
  expect(new Site('a').grid).toEqual({ columns: [200, 2000, 3800], rows: [2500, 1350, 200], typed: { '2000 1350': '-3' } })
  expect(new Site('a').size).toEqual({ width: 3750, height: 2740 })
})

test('what is spoilt on the phone is left out', () => {
  for (const what of ['-unused', '-draft']) localStorage.setItem(`wallwright-site-s${what}`, '{"grid": {"columns": 3}, "size": 7')
  expect([new Site('s').unused, new Site('s').grid, new Site('s').size.width]).toEqual([[], null, 4000])
  expect(kept('{broken')).toEqual([])
  expect(kept('[{"id": 4}, {"id": "x", "taken": 1, "call": {"edit": "set_plumb"}}]')).toHaveLength(1)
})
