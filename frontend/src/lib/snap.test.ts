import { expect, test } from 'vitest'
import { clamp, nudge, snap } from './snap'

test.each([
  [1233, [], 1235],
  [1232.4, [], 1230],
  [1233, [1241], 1241],
  [1233, [1246], 1235],
  [1233, [1241, 1230.5], 1230.5],
  [-3, [], -5],
])('%d with guides %j stands at %d', (value, guides, at) => {
  expect(snap(value, guides)).toBe(at)
})

test('a guide out of reach does not hold', () => {
  expect(snap(100, [106], 5, 5)).toBe(100)
  expect(snap(100, [105], 5, 5)).toBe(105)
})

test('clamped to the wall', () => {
  expect([clamp(-1, 0, 9), clamp(10, 0, 9), clamp(5, 0, 9)]).toEqual([0, 9, 5])
})

test('arrow keys: 1 mm, with shift 10 mm, up and right are more', () => {
  const by = (key: string, shiftKey = false) => nudge({ key, shiftKey })
  expect([by('ArrowUp'), by('ArrowRight'), by('ArrowDown'), by('ArrowLeft')]).toEqual([1, 1, -1, -1])
  expect([by('ArrowUp', true), by('ArrowLeft', true), by('Enter'), by('PageUp')]).toEqual([10, -10, 0, 100])
})
