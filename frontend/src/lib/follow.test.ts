import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { EVERY, Follow } from './follow'

const asked: string[] = []
const heard: string[] = []
const make = () =>
  new Follow<number, number, number>(
    async (n) => (asked.push(`look ${n}`), n),
    async (n) => (asked.push(`weigh ${n}`), n),
    (n) => heard.push(`looked ${n}`),
    (n) => heard.push(`weighed ${n}`),
    (problem) => heard.push(String(problem)),
  )

beforeEach(() => {
  vi.useFakeTimers()
  asked.length = heard.length = 0
})
afterEach(() => vi.useRealTimers())

test('every step is looked at, the newest is weighed now and then, and the last one for certain', async () => {
  const follow = make()
  for (let n = 1; n <= 20; n++) {
    follow.push(n)
    await vi.advanceTimersByTimeAsync(EVERY / 5)
  }
  await vi.advanceTimersByTimeAsync(3 * EVERY)
  expect(asked.filter((one) => one.startsWith('look'))).toHaveLength(20)
  const weighed = heard.filter((one) => one.startsWith('weighed'))
  expect(weighed.length).toBeGreaterThan(2)
  expect(weighed.length).toBeLessThan(7)
  expect(weighed.at(-1)).toBe('weighed 20')
  // at rest nothing more is asked; a step after a rest is weighed again
  await vi.advanceTimersByTimeAsync(20 * EVERY)
  expect(heard.filter((one) => one.startsWith('weighed'))).toEqual(weighed)
  follow.push(21)
  await vi.advanceTimersByTimeAsync(2 * EVERY)
  expect(heard.at(-1)).toBe('weighed 21')
})

test('what is called off is neither weighed nor heard', async () => {
  const follow = make()
  follow.push(1)
  follow.clear()
  await vi.advanceTimersByTimeAsync(5 * EVERY)
  expect(heard).toEqual([])
  expect(asked).toEqual(['look 1'])
})
