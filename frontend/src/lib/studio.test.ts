import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { Look, State } from './api'
import { laidOver, studio } from './studio.svelte'

/** A server whose every answer waits until the test gives it. */
interface Call {
  path: string
  body: Record<string, unknown>
  give: (answer: unknown) => void
}
let calls: Call[] = []
const settle = () => new Promise((done) => setTimeout(done))
const state = (position: number) =>
  ({ position, job: { units: 'mm' }, findings: [], moved: [], meanwhile: [], money: { total_shown: '1' }, screen: { centre_height: 1100 + position }, trouble: null, rods: { heights: [], widths: [] } }) as unknown as State

beforeEach(() => {
  calls = []
  vi.stubGlobal('fetch', (path: string, init: RequestInit) =>
    new Promise<Response>((answer) =>
      calls.push({ path, body: init.body ? JSON.parse(init.body as string) : {}, give: (given) => answer(new Response(JSON.stringify(given))) })))
  studio.cancel()
  studio.kept = state(5)
  studio.news = studio.trouble = ''
})
afterEach(() => vi.unstubAllGlobals())
const call = async (part: string) => {
  await settle()
  const at = calls.findIndex((one) => one.path.includes(part))
  expect(at, `${part} among ${calls.map((one) => one.path).join(' ')}`).toBeGreaterThanOrEqual(0)
  return calls.splice(at, 1)[0]!
}

test('a look that began before one\'s own change ended does not tell it as another\'s', async () => {
  void studio.look()
  const watch = await call('watch')
  const done = studio.put('screen.centre_height', 1200)
  ;(await call('edit')).give(state(6))
  await done
  watch.give({ position: 5, from_file: false, trouble: null })
  await settle()
  expect(calls).toEqual([])
  expect([studio.kept!.position, studio.news]).toEqual([6, ''])
})

test('a change of another page is told', async () => {
  void studio.look()
  ;(await call('watch')).give({ position: 6, from_file: false, trouble: null })
  ;(await call('state')).give(state(6))
  await settle()
  expect(studio.kept!.position).toBe(6)
  expect(studio.news).toContain('changed on another page')
})

test('a key pressed while a step is being saved is not lost', async () => {
  studio.drag({ 'screen.centre_height': 1201 })
  ;(await call('look')).give(state(5))
  await settle()
  const first = studio.drop()
  const saving = await call('edit')
  studio.drag({ 'screen.centre_height': 1202 })
  await settle()
  expect(calls, 'nothing is tried on a state that is being left').toEqual([])
  saving.give(state(6))
  await first
  expect(studio.moving).toEqual({ 'screen.centre_height': 1202 })
  const second = studio.drop()
  const again = await call('edit')
  expect(again.body).toMatchObject({ position: 6, marks: { 'screen.centre_height': 1202 } })
  again.give(state(7))
  await second
  expect([studio.kept!.position, studio.moving]).toEqual([7, {}])
})

test('a look answered after the hand let go is not shown', async () => {
  studio.drag({ 'screen.centre_height': 1201 })
  const late = await call('look')
  const done = studio.drop()
  ;(await call('edit')).give(state(6))
  await done
  late.give({ ...state(5), svg: 'late' })
  await settle()
  expect([studio.tried, studio.weighed, studio.shown!.position]).toEqual([null, null, 6])
})

test('a look is laid over the wall as it is kept: marks of what stays are kept, those of what moved are taken whole', () => {
  const mark = (of: string, name: string, at: number) => ({ of, name, at })
  const kept = { findings: ['old'], svg: 'old', rods: { heights: [mark('C1', 'C1.z', 200), mark('T1', 'T1.z', 0), mark('C1', 'C1.top', 500)], widths: [] } }
  const look = { svg: 'new', rods: { heights: [mark('C1', 'C1.top', 700), mark('C1', 'C1.z', 300)], widths: [] } }
  expect(laidOver(kept as unknown as State, look as unknown as Look)).toEqual({
    findings: ['old'], svg: 'new',
    rods: { heights: [mark('T1', 'T1.z', 0), mark('C1', 'C1.z', 300), mark('C1', 'C1.top', 700)], widths: [] },
  })
})

test('readings answered late do not bring an older wall back', () => {
  studio.take(state(4))
  expect(studio.kept!.position).toBe(5)
  studio.take(state(6))
  expect(studio.kept!.position).toBe(6)
})

test('a drawing asked for at a scale that is left by now is not shown', async () => {
  const first = studio.rescale(30)
  const at30 = await call('state?scale=30')
  const second = studio.rescale(40)
  ;(await call('state?scale=40')).give({ ...state(5), svg: '40' })
  await second
  at30.give({ ...state(5), svg: '30' })
  await first
  expect((studio.kept as State).svg).toBe('40')
})

test('an outlet moved again while it is being pinned is moved the second time, not placed twice', async () => {
  const thing = (edit: string) => ({ ref: 'P1', kind: 'point', move: { edit, with: { ref: 'P1' }, across: 'x', up: 'z', at_across: 10, at_up: 20 } })
  studio.things = { wall: [thing('add_point')], plan: [] } as unknown as typeof studio.things
  studio.pull(studio.things!.wall[0]!, 11, 20)
  ;(await call('look')).give(state(5))
  const first = studio.drop()
  const saving = await call('edit')
  expect(saving.body).toMatchObject({ edit: 'add_point', with: { x: 11 } })
  studio.pull(studio.things!.wall[0]!, 12, 20)
  const second = studio.drop()
  saving.give(state(6))
  ;(await call('things')).give({ wall: [thing('move_point')], plan: [] })
  await first
  const moved = await call('edit')
  expect(moved.body).toMatchObject({ edit: 'move_point', with: { x: 12 } })
  moved.give(state(7))
  ;(await call('things')).give({ wall: [thing('move_point')], plan: [] })
  await second
  studio.things = null
})

test('cures that take a trial are put to their findings, of the wall that is still shown, and asked for once', async () => {
  const bare = { ...state(5), findings: [{ says: 'warm', cure: '', edits: [] }, { says: 'low', cure: 'raise it', edits: [] }] } as unknown as State
  studio.kept = bare
  void studio.cures()
  const cures = [{ finding: 0, cure: 'a fan', edits: [{ edit: 'add_device', with: {} }], does: 'Put a fan in' }]
  ;(await call('cures')).give({ position: 5, cures })
  await settle()
  expect(studio.kept!.findings.map((finding) => finding.cure)).toEqual(['a fan', 'raise it'])
  expect(studio.kept!.findings[0]!.does).toBe('Put a fan in')
  await studio.cures()
  expect(calls).toEqual([])

  studio.kept = bare
  void studio.cures()
  const late = await call('cures')
  studio.kept = state(6)
  late.give({ position: 5, cures })
  await settle()
  expect(studio.kept!.findings).toEqual([])
})
