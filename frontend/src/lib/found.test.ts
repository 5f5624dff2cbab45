import { expect, test } from 'vitest'
import { anything, draftOf, foundOf } from './found.svelte'

test('a draft that is spoilt or of another page begins anew', () => {
  for (const text of [null, '', '{', '[]', '{"boxes": 3, "grid": null, "known": {"boxes": 1}}', '{"boxes": [{"x": 1}]}']) {
    const draft = draftOf(text)
    expect([draft.boxes, draft.things, draft.grid, draft.known.boxes]).toEqual([[], [], {}, []])
    expect(anything(draft)).toBe(false)
  }
})

test('only what was filled in is sent, numbers as mm and all else as typed', () => {
  const draft = draftOf(JSON.stringify({
    by: ' Elia ', boxes: [{ ref: 'P1', x: '1700', z: '3 ft 10', sunk: '' }], things: [{ ref: 'B1', kind: '', x: '', z: '2380', width: '', height: '', projection: ' ', gone: false }],
    grid: { '200 2500': '-4', '200 200': ' ' }, widths: { '100': '4199', '1000': '' },
  }))
  expect(anything(draft)).toBe(true)
  const found = foundOf(draft, '2026-03-01')
  expect(found.boxes).toEqual([{ ref: 'P1', x: 1700, z: '3 ft 10', sunk: null }])
  expect(found.things).toEqual([{ ref: 'B1', kind: null, x: null, z: 2380, width: null, height: null, projection: null, stays: null }])
  expect(found.plumb).toEqual([{ x: 200, z: 2500, out: -4 }])
  expect(found.widths).toEqual([{ at: 100, value: 4199 }])
  expect([found.by, found.ceiling, found.out_of_plumb]).toEqual(['Elia', null, null])
})
