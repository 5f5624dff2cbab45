/** A moment as people say it: today by the hour, else the day. */
export function when(seconds: number, now = Date.now()): string {
  const at = new Date(seconds * 1000)
  const minutes = Math.round((now - at.getTime()) / 60000)
  if (minutes >= 0 && minutes < 1) return 'just now'
  if (minutes >= 0 && minutes < 60) return `${minutes} min ago`
  const clock = at.toLocaleTimeString([], { hour: '2-digit', minute: '2-digit' })
  if (at.toDateString() === new Date(now).toDateString()) return `today ${clock}`
  return `${at.toLocaleDateString([], { day: 'numeric', month: 'short', year: 'numeric' })}, ${clock}`
}
