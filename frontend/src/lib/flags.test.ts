import { expect, test } from 'vitest'
import { flagAt, hides, type Solid } from './flags'

const thing = (x: number, y: number, width: number, height: number): Solid => ({ x, y, width, height, weight: 1 })

test('a flag stands at the corner above right where nothing is in its way', () => {
  expect(flagAt(thing(100, 100, 200, 150), 26, [], 600, 400)).toEqual({ x: 288, y: 88 })
})

test('what a square hides is told as the share of each thing', () => {
  expect(hides(0, 0, 20, [thing(0, -10, 10, 20), thing(-20, -10, 20, 40), thing(50, 50, 5, 5)])).toBeCloseTo(1.25)
  expect(hides(0, 0, 20, [{ ...thing(0, -10, 10, 20), weight: 0.4 }])).toBeCloseTo(0.4)
})

test('on a phone the flag of a low console lies beside it, not over it', () => {
  const console_ = thing(125, 180, 49, 14)
  const at = flagAt(console_, 46, [console_], 330, 205)
  expect(hides(at.x, at.y, 46, [console_])).toBeLessThan(0.05)
  expect(Math.hypot(at.x - 149, at.y - 187)).toBeLessThan(60)
})

test('a flag goes to another corner where an outlet stands at the first', () => {
  const tower = thing(20, 80, 65, 330)
  const outlet = thing(60, 60, 24, 24)
  const at = flagAt(tower, 26, [tower, outlet], 600, 400)
  expect(hides(at.x, at.y, 26, [outlet])).toBe(0)
})

test('it stays within the drawing', () => {
  expect(flagAt(thing(0, 0, 600, 400), 44, [], 600, 400)).toEqual({ x: 586, y: 12 })
})
