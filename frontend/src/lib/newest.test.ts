import { expect, test } from 'vitest'
import { Newest } from './newest'

/** Calls that are answered when told to. */
function calls() {
  const begun: { value: number; answer: (out: number) => void; fail: (problem: Error) => void }[] = []
  const run = (value: number) => new Promise<number>((answer, fail) => begun.push({ value, answer, fail }))
  return { begun, run }
}
const settle = () => new Promise((done) => setTimeout(done))

test('one is on its way, only the newest waits', async () => {
  const { begun, run } = calls()
  const heard: number[] = []
  const queue = new Newest(run, (out: number) => heard.push(out))
  for (const value of [1, 2, 3, 4]) queue.push(value)
  expect(begun.map((call) => call.value)).toEqual([1])
  begun[0]!.answer(10)
  await settle()
  expect(begun.map((call) => call.value)).toEqual([1, 4])
  begun[1]!.answer(40)
  await settle()
  expect(heard).toEqual([10, 40])
  queue.push(5)
  expect(begun).toHaveLength(3)
})

test('after clear neither what is on its way nor what waits is heard', async () => {
  const { begun, run } = calls()
  const heard: number[] = []
  const queue = new Newest(run, (out: number) => heard.push(out))
  queue.push(1)
  queue.push(2)
  queue.clear()
  begun[0]!.answer(10)
  await settle()
  expect(heard).toEqual([])
  expect(begun).toHaveLength(1)
  queue.push(3)
  begun[1]!.answer(30)
  await settle()
  expect(heard).toEqual([30])
})

test('what is pushed after clear while one is on its way still goes', async () => {
  const { begun, run } = calls()
  const heard: number[] = []
  const queue = new Newest(run, (out: number) => heard.push(out))
  queue.push(1)
  queue.clear()
  queue.push(2)
  begun[0]!.answer(10)
  await settle()
  begun[1]!.answer(20)
  await settle()
  expect(heard).toEqual([20])
})

test('a failure is told and does not stop the next', async () => {
  const { begun, run } = calls()
  const heard: unknown[] = []
  const queue = new Newest(run, (out: number) => heard.push(out), (problem) => heard.push((problem as Error).message))
  queue.push(1)
  queue.push(2)
  begun[0]!.fail(new Error('no'))
  await settle()
  begun[1]!.answer(20)
  await settle()
  expect(heard).toEqual(['no', 20])
})
