/** A moment as people say it: today by the hour, else the day. */
export function when(seconds: number, now = Date.now()): string {
  const at = new Date(seconds * 1000)
  const minutes = Math.round((now - at.getTime()) / 60000)
  if (minutes >= 0 && minutes < 1) return 'just now'
  if (minutes >= 0 && minutes < 60) return `${minutes} min ago`
  const clock = at.toLocaleTimeString([], { hour: '2-digit', minute: '2-digit' })
  if (at.toDateString() === new Date(now).toDateString()) return `today ${clock}`
  return `${day(seconds)}, ${clock}`
}

/** The day alone. */
export const day = (seconds: number) => new Date(seconds * 1000).toLocaleDateString([], { day: 'numeric', month: 'short', year: 'numeric' })

/** Day, hour and minute, whenever it was: as a log has it. */
export function exactly(seconds: number): string {
  return `${day(seconds)}, ${new Date(seconds * 1000).toLocaleTimeString([], { hour: '2-digit', minute: '2-digit', second: '2-digit' })}`
}
