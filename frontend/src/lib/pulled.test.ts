import { describe, expect, test } from 'vitest'
import type { Move, Thing } from './api'
import { boxOf, byKey, changeOf, drawnIn, type Pulled, spotAt } from './pulled'

const box = (x: number, z: number, width = 100, height = 0) => ({ x, z, width, height })
const spot = (says: string, x: number, z: number) => ({ says, box: box(x, z), with: { along: 'under_shelf', of: says } })
const move: Move = {
  edit: 'set_light', with: { ref: 'G2' }, across: '', up: 'setback', at_across: 0, at_up: 40, inward: true, deep: true, most: 60,
  spots: [spot('S1', 0, 900), spot('S2', 900, 900)],
}
const thing = { ref: 'G2', box: box(400, 200), move } as Thing
const held: Pulled = { thing, across: 0, up: 40 }

describe('light along a unit', () => {
  test('goes back to the wall and out to its edge, no further than there is room, and stays where it is seen', () => {
    expect(drawnIn(move, 52.4)).toBe(50)
    expect(drawnIn(move, 90)).toBe(60)
    expect(drawnIn(move, -5)).toBe(0)
    expect(byKey(move, held, 'ArrowUp', 1)).toMatchObject({ up: 41 })
    expect(byKey(move, held, 'ArrowDown', -100)).toMatchObject({ up: 0 })
    expect(boxOf(thing, { ...held, up: 10 })).toEqual(thing.box)
    expect(changeOf({ ...held, up: 10 }, move)).toMatchObject({ edit: 'set_light', with: { ref: 'G2', setback: 10 } })
  })

  test('snaps to the unit whose line the pointer is at', () => {
    expect(spotAt(move, { x: 50, z: 905 }, 20)?.says).toBe('S1')
    expect(spotAt(move, { x: 1015, z: 895 }, 20)?.says).toBe('S2')
    expect(spotAt(move, { x: 500, z: 900 }, 20)).toBeNull()
    const moved = { ...held, spot: move.spots[1]! }
    expect(boxOf(thing, moved)).toEqual(box(900, 900))
    expect(changeOf(moved, move).with).toEqual({ ref: 'G2', along: 'under_shelf', of: 'S2' })
  })

  test('goes from unit to unit by the keys to the sides', () => {
    const right = byKey(move, held, 'ArrowRight', 1)!
    expect(right.spot?.says).toBe('S2')
    expect(byKey(move, right, 'ArrowRight', 1)!.spot?.says).toBe('S2')
    const back = byKey(move, right, 'ArrowLeft', -1)!
    expect(back.spot).toBeNull()
    expect(byKey(move, back, 'ArrowLeft', -1)!.spot?.says).toBe('S1')
    expect(byKey(move, right, 'ArrowUp', 1)).toMatchObject({ spot: null, up: 41 })
  })
})

test('what moves on the wall moves as far as the hand, what is drawn in shrinks from its edges', () => {
  const free: Move = { ...move, across: 'x', up: 'z', at_across: 400, at_up: 200, inward: false, deep: false, most: null, spots: [] }
  const panel = { ...thing, move: free } as Thing
  expect(boxOf(panel, { thing: panel, across: 410, up: 190 })).toEqual(box(410, 190))
  expect(byKey(free, { thing: panel, across: 400, up: 200 }, 'ArrowLeft', -10)).toMatchObject({ across: 390, up: 200 })
  const behind = { ...thing, box: box(400, 200, 100, 50), move: { ...move, deep: false, spots: [] } } as Thing
  expect(boxOf(behind, { thing: behind, across: 0, up: 50 })).toEqual(box(410, 200, 80, 40))
  expect(byKey(behind.move!, { thing: behind, across: 0, up: 50 }, 'ArrowUp', 1)).toMatchObject({ up: 49 })
})
