import { afterEach, expect, test, vi } from 'vitest'
import { Asking } from './study.svelte'

afterEach(() => {
  vi.unstubAllGlobals()
  vi.useRealTimers()
})

function server() {
  const calls: { path: string; give: (answer: unknown) => void }[] = []
  vi.stubGlobal('fetch', (path: string) =>
    new Promise<Response>((answer) => calls.push({ path, give: (given) => answer(new Response(JSON.stringify(given))) })))
  return calls
}
const study = (id: string, state: string) => ({ id, kind: 'options', state, share: 0, what: '', error: '', holds: true, question: {}, files: [] })
const settle = () => new Promise((done) => setTimeout(done))

test('the search for an older study does not take the place of the question that was asked meanwhile', async () => {
  const calls = server()
  const asking = new Asking('options')
  void asking.find()
  void asking.ask({}, 1)
  await settle()
  const [list, ask] = calls
  ask!.give(study('new', 'queued'))
  await settle()
  list!.give({ studies: [study('old', 'done')] })
  await settle()
  expect(asking.study?.id).toBe('new')
  asking.leave()
})

test('a look that was on its way when the study was stopped does not set it going again on the page', async () => {
  vi.useFakeTimers()
  const calls = server()
  const asking = new Asking('options')
  void asking.ask({}, 1)
  await vi.advanceTimersByTimeAsync(0)
  calls.shift()!.give(study('a', 'running'))
  await vi.advanceTimersByTimeAsync(450)
  const look = calls.shift()!
  void asking.cancel()
  await vi.advanceTimersByTimeAsync(0)
  calls.shift()!.give(study('a', 'cancelled'))
  await vi.advanceTimersByTimeAsync(0)
  look.give(study('a', 'running'))
  await vi.advanceTimersByTimeAsync(0)
  expect(asking.study?.state).toBe('cancelled')
})
