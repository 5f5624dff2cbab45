import { expect, test } from 'vitest'
import { beside } from './labels'

const clash = (a: { x: number; y: number }, b: { x: number; y: number }) => Math.abs(a.x - b.x) < 22 && Math.abs(a.y - b.y) < 12

test('labels of points that stand close lie beside them and not over one another', () => {
  const points = [{ x: 100, y: 100 }, { x: 116, y: 100 }, { x: 108, y: 112 }, { x: 300, y: 40 }]
  const set = beside(points, 17, 13, 22, 12)
  set.forEach((a, i) => set.slice(i + 1).forEach((b) => expect(clash(a, b)).toBe(false)))
  set.forEach((at, i) => expect(Math.hypot(at.x - points[i]!.x, at.y - points[i]!.y)).toBeLessThan(22))
  expect(set[3]).toEqual({ x: 300, y: 27 })
})
