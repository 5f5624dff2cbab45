import { expect, test } from 'vitest'
import { beside } from './labels'

const apart = (set: readonly { x: number; y: number }[], width: number, height: number) =>
  set.flatMap((a, i) => set.slice(i + 1).filter((b) => Math.abs(a.x - b.x) < width && Math.abs(a.y - b.y) < height))

test('labels of points that stand close lie beside them and not over one another', () => {
  const points = [{ x: 100, y: 100 }, { x: 116, y: 100 }, { x: 108, y: 112 }, { x: 300, y: 40 }]
  const set = beside(points, 17, 13, 22, 12)
  expect(apart(set, 22, 12)).toEqual([])
  set.forEach((at, i) => expect(at.led || Math.hypot(at.x - points[i]!.x, at.y - points[i]!.y) < 22).toBe(true))
  expect(set[3]).toEqual({ x: 300, y: 27, led: false })
})

test('where many stand in one box, names go further out, each led to by a line, over no other name and no other sign', () => {
  // as the points of a console stand at a window of 1280 px
  const points = [{ x: 515, y: 508 }, { x: 531, y: 510 }, { x: 531, y: 523 }, { x: 516, y: 524 }, { x: 568, y: 512 }, { x: 569, y: 524 }, { x: 545, y: 524 }]
  const set = beside(points, 17, 13, 22, 12, { x: 600, y: 545 })
  expect(apart(set, 22, 12)).toEqual([])
  for (const label of set) expect(label.y).toBeLessThanOrEqual(539)
  for (const label of set) expect(points.filter((p) => Math.abs(p.x - label.x) < 17 && Math.abs(p.y - label.y) < 12)).toEqual([])
  expect(set.some((label) => label.led)).toBe(true)
})
