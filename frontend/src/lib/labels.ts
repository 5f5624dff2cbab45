// Short labels beside points of a drawing, each where it lies over the fewest others.
export interface At {
  x: number
  y: number
}

const ASIDE: readonly At[] = [
  { x: 0, y: -1 }, { x: 0, y: 1 }, { x: 1, y: 0 }, { x: -1, y: 0 }, { x: 1, y: -1 }, { x: -1, y: -1 }, { x: 1, y: 1 }, { x: -1, y: 1 },
]

/** The middles of the labels. across, up : how far a label stands off its point; width, height : its size, all in px. */
export function beside(points: readonly At[], across: number, up: number, width: number, height: number): At[] {
  const set: At[] = []
  for (const point of points) {
    let best: At = point
    let least = Infinity
    for (const aside of ASIDE) {
      const at = { x: point.x + aside.x * across, y: point.y + aside.y * up }
      const over =
        set.filter((other) => Math.abs(other.x - at.x) < width && Math.abs(other.y - at.y) < height).length * 3 +
        points.filter((other) => Math.abs(other.x - at.x) < width / 2 + 6 && Math.abs(other.y - at.y) < height / 2 + 6).length
      if (over < least) [best, least] = [at, over]
    }
    set.push(best)
  }
  return set
}
