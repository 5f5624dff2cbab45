/** The part of the wall that one of the engine's drawings shows: its viewBox, in real mm with y downwards. */
export function frameOf(svg: string): { x: number; y: number; width: number; height: number } | null {
  const found = /viewBox="([-\d.]+) ([-\d.]+) ([\d.]+) ([\d.]+)"/.exec(svg)
  if (!found) return null
  const [x, y, width, height] = found.slice(1).map(Number) as [number, number, number, number]
  return width > 0 && height > 0 ? { x, y, width, height } : null
}
