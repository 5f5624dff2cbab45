/** Labels of one size set along a line as near their own places as they can be without touching; order kept. */
export function spread(wanted: readonly number[], size: number, low: number, high: number): number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => wanted[a]! - wanted[b]! || a - b)
  const groups: { members: number[]; middle: number }[] = []
  for (const i of order) {
    groups.push({ members: [i], middle: wanted[i]! })
    join(groups, wanted, size, low, high)
  }
  const out = new Array<number>(wanted.length).fill(0)
  for (const group of groups) {
    const start = group.middle - ((group.members.length - 1) * size) / 2
    group.members.forEach((i, k) => (out[i] = start + k * size))
  }
  return out
}

/** Merge the last group into the one before it for as long as they touch; each lies about the mean of its wishes, within the line. */
function join(groups: { members: number[]; middle: number }[], wanted: readonly number[], size: number, low: number, high: number): void {
  for (;;) {
    const last = groups[groups.length - 1]!
    const half = (last.members.length * size) / 2
    const mean = last.members.reduce((sum, i) => sum + wanted[i]!, 0) / last.members.length
    last.middle = Math.max(low + half, Math.min(high - half, mean))
    const before = groups[groups.length - 2]
    if (!before || before.middle + (before.members.length * size) / 2 <= last.middle - half + 1e-9) return
    groups.pop()
    before.members.push(...last.members)
  }
}

/** Labels that are this many times longer than the line itself are thinned out. */
export const CROWDED = 1.7

/** What is labelled where there is room for few: all that must be, and of the others one at each place, evenly left out where even those are too many. */
export function thinned<T extends { at: number }>(marks: readonly T[], room: number, must: (mark: T) => boolean): T[] {
  const places = new Set(marks.filter(must).map((mark) => Math.round(mark.at)))
  const others = marks.filter((mark) => !must(mark) && !places.has(Math.round(mark.at)) && places.add(Math.round(mark.at)))
  const free = Math.max(0, room - marks.filter(must).length)
  const share = Math.min(1, free / Math.max(1, others.length))
  const kept = new Set(others.filter((_, i) => Math.floor((i + 1) * share) > Math.floor(i * share)))
  return marks.filter((mark) => must(mark) || kept.has(mark))
}
