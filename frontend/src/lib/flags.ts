// Where a findings' flag stands: at what it speaks of, and over nothing that one would choose.
export interface Rect {
  x: number
  y: number
  width: number
  height: number
}

/** What a flag keeps clear of. weight : how much that matters; a thing that is chosen there counts 1 */
export interface Solid extends Rect {
  weight: number
}

const CORNER = 12 // px that a flag's middle stands in from a corner, and out over the edge

/** How much of what may be chosen lies under a square of this size [px] about a place: 1 = one thing wholly. */
export function hides(x: number, y: number, size: number, solids: readonly Solid[]): number {
  let sum = 0
  for (const solid of solids) {
    const wide = Math.min(x + size / 2, solid.x + solid.width) - Math.max(x - size / 2, solid.x)
    const high = Math.min(y + size / 2, solid.y + solid.height) - Math.max(y - size / 2, solid.y)
    if (wide > 0 && high > 0) sum += (solid.weight * wide * high) / (solid.width * solid.height)
  }
  return sum
}

/** The middle of the flag of a box: at the corner above right, else where its touch area hides least, at or just off the box; within the drawing. */
export function flagAt(box: Rect, touch: number, solids: readonly Solid[], width: number, height: number): { x: number; y: number } {
  const [left, right, top, foot] = [box.x, box.x + box.width, box.y, box.y + box.height]
  const [middle, halfway, off] = [(left + right) / 2, (top + foot) / 2, touch / 2 + 2]
  const places: [number, number][] = [
    [right - CORNER, top - CORNER], [left + CORNER, top - CORNER], [right - CORNER, foot + CORNER], [left + CORNER, foot + CORNER],
    [middle, top - off], [right + off, halfway], [left - off, halfway], [middle, foot + off], [right, top - off], [left, top - off],
    [right + off, top], [left - off, top],
  ]
  let best = { x: 0, y: 0 }
  let least = Infinity
  for (const [i, [px, py]] of places.entries()) {
    const at = { x: Math.max(14, Math.min(width - 14, px)), y: Math.max(12, Math.min(height - 12, py)) }
    const over = hides(at.x, at.y, touch, solids) + i * 0.01
    if (over < least) [best, least] = [at, over]
  }
  return best
}
