/** To the nearest guide within reach, else to the step. All in mm. */
export function snap(value: number, guides: readonly number[], step = 5, reach = 12): number {
  let best: number | null = null
  for (const guide of guides) {
    const away = Math.abs(guide - value)
    if (away <= reach && (best === null || away < Math.abs(best - value))) best = guide
  }
  return best ?? Math.round(value / step) * step
}

export function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value))
}

/** What an arrow key moves a mark by, in mm; 0 for any other key. Up and right are more. */
export function nudge(event: { key: string; shiftKey: boolean }): number {
  const by = event.shiftKey ? 10 : 1
  if (event.key === 'ArrowUp' || event.key === 'ArrowRight') return by
  if (event.key === 'ArrowDown' || event.key === 'ArrowLeft') return -by
  return event.key === 'PageUp' ? 100 : event.key === 'PageDown' ? -100 : 0
}
