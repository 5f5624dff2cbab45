import { expect, test } from 'vitest'
import { Turn } from './turn'

test('only the newest question is still the newest', () => {
  const turn = new Turn()
  const first = turn.next()
  expect(first()).toBe(true)
  const second = turn.next()
  expect([first(), second()]).toEqual([false, true])
})
