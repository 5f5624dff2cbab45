import { expect, test } from 'vitest'
import { spread, thinned } from './spread'

const touches = (places: number[], size: number) => {
  const sorted = places.toSorted((a, b) => a - b)
  return sorted.some((at, i) => i > 0 && at - sorted[i - 1]! < size - 1e-6)
}

test('labels with room stay where they belong', () => {
  expect(spread([10, 60, 200], 20, 0, 300)).toEqual([10, 60, 200])
})

test('crowded labels part about their middle, in order', () => {
  expect(spread([100, 100, 100], 20, 0, 300)).toEqual([80, 100, 120])
})

test('they stay on the rod', () => {
  const set = spread([0, 1, 299, 300], 20, 0, 300)
  expect(Math.min(...set)).toBe(10)
  expect(Math.max(...set)).toBe(290)
  expect(touches(set, 20)).toBe(false)
})

test('the order given is the order answered, whatever it is', () => {
  const set = spread([200, 100, 101], 20, 0, 300)
  expect(set[0]).toBe(200)
  expect(set[1]).toBeLessThan(set[2]!)
})

test('never two over one another where there is room for all', () => {
  let seed = 7
  const random = () => (seed = (seed * 16807) % 2147483647) / 2147483647
  for (let round = 0; round < 300; round++) {
    const n = 1 + Math.floor(random() * 20)
    const wanted = Array.from({ length: n }, () => random() * 480)
    const set = spread(wanted, 24, 0, 480)
    expect(touches(set, 24)).toBe(false)
    expect(set.every((at) => at >= 12 - 1e-6 && at <= 468 + 1e-6)).toBe(true)
    const order = wanted.map((_, i) => i).sort((a, b) => wanted[a]! - wanted[b]!)
    order.forEach((i, k) => k && expect(set[i]!).toBeGreaterThan(set[order[k - 1]!]!))
  }
})

test('of crowded marks those that must be are kept, and of the rest one a place as far as there is room', () => {
  const marks = Array.from({ length: 40 }, (_, i) => ({ name: `m${i}`, at: 100 * Math.floor(i / 2), must: i % 10 === 3 }))
  const kept = thinned(marks, 14, (mark) => mark.must)
  expect(kept.filter((mark) => mark.must)).toHaveLength(4)
  expect(kept).toHaveLength(14)
  expect(new Set(kept.map((mark) => mark.at)).size).toBe(14)
  expect(kept).toEqual(marks.filter((mark) => kept.includes(mark)))
  expect(kept.at(-1)!.at).toBeGreaterThan(1500) // thinned evenly, not cut off
  expect(thinned(marks, 100, (mark) => mark.must).map((mark) => mark.at)).toEqual(Array.from({ length: 20 }, (_, i) => 100 * i))
  expect(thinned(marks, 2, (mark) => mark.must)).toHaveLength(4)
})
