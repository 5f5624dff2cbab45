// Short labels beside points of a drawing, each where it lies over the fewest others.
export interface At {
  x: number
  y: number
}

const ASIDE: readonly At[] = [
  { x: 0, y: -1 }, { x: 0, y: 1 }, { x: 1, y: 0 }, { x: -1, y: 0 }, { x: 1, y: -1 }, { x: -1, y: -1 }, { x: 1, y: 1 }, { x: -1, y: 1 },
]

/** How far out a label may go, in stand-offs; further out a line leads to it. */
const RINGS = [1, 1.9, 2.8, 3.7]
export interface Label extends At {
  /** Whether it stands so far off that a line must tell whose it is. */
  led: boolean
}

/** The middles of the labels. across, up : how far a label stands off its point; width, height : its size; within : the drawing's, all in px. */
export function beside(points: readonly At[], across: number, up: number, width: number, height: number, within?: At): Label[] {
  const set: Label[] = []
  for (const point of points) {
    let best: Label = { ...point, led: false }
    let least = Infinity
    for (const [ring, far] of RINGS.entries()) {
      for (const aside of ASIDE) {
        const at = { x: point.x + aside.x * across * far, y: point.y + aside.y * up * far, led: ring > 0 }
        const over =
          set.filter((other) => Math.abs(other.x - at.x) < width && Math.abs(other.y - at.y) < height).length * 3 +
          points.filter((other) => Math.abs(other.x - at.x) < width / 2 + 6 && Math.abs(other.y - at.y) < height / 2 + 6).length * 2 +
          ring * 0.6 +
          (within && (at.x < width / 2 || at.y < height / 2 || at.x > within.x - width / 2 || at.y > within.y - height / 2) ? 9 : 0)
        if (over < least) [best, least] = [at, over]
      }
    }
    set.push(best)
  }
  return set
}
