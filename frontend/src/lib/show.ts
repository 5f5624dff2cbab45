// How numbers are shown. The engine reads and writes lengths; here they only get their last shape for the eye.
export type Units = 'mm' | 'ft-in'

/** Whole mm, as the trade sets out; tenths only of what is small (a saw's 3.2). 1480, 12.5; or 9'-4 3/8" to the nearest eighth, as the engine's own `show_feet` has it. */
export function length(mm: number, units: Units): string {
  if (units === 'ft-in') return feet(mm)
  if (Math.abs(mm) >= 100) return String(Math.round(mm))
  const tenth = Math.round(mm * 10) / 10
  return tenth === 0 ? '0' : String(tenth)
}

export function withUnit(mm: number, units: Units): string {
  return units === 'mm' ? `${length(mm, units)} mm` : length(mm, units)
}

function feet(mm: number): string {
  const eighths = Math.round((Math.abs(mm) / 25.4) * 8)
  const sign = mm < 0 && eighths ? '-' : ''
  const inches = Math.floor(eighths / 8)
  let top = eighths % 8
  let bottom = 8
  while (top && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2]
  const fraction = top ? ` ${top}/${bottom}` : ''
  const whole = Math.floor(inches / 12)
  return whole ? `${sign}${whole}'-${inches % 12}${fraction}"` : `${sign}${inches}${fraction}"`
}

/** A measured value or limit with its unit; lengths in the units shown, also those in a text such as `914 to 1016`. */
export function value(what: number | string, unit: string, units: Units): string {
  if (typeof what === 'string') {
    if (unit === 'mm' && units === 'ft-in' && /\d/.test(what)) return what.replace(/\d+(\.\d+)?/g, (n) => feet(Number(n)))
    return unit ? `${what} ${unit}` : what
  }
  if (unit === 'mm') return what < 0 ? `${withUnit(-what, units)} below 0` : withUnit(what, units)
  const number = Number.isInteger(what) ? String(what) : String(Math.round(what * 1000) / 1000)
  return unit === '°' || unit === 'deg' ? `${number}°` : unit ? `${number} ${unit}` : number
}

const LENGTHS = /(?<![\w.])\d+(?:\.\d+)?(?:(?: × | x | to )\d+(?:\.\d+)?)* mm\b/g

/** The lengths that stand in a sentence in mm, each once, as they are in feet and inches: `882 × 8 mm = 2'-10 3/4" × 3/8"`. */
export function inFeet(...says: string[]): string {
  const found = new Set(says.flatMap((text) => text.match(LENGTHS) ?? []))
  return [...found].map((mm) => `${mm} = ${mm.replace(/ mm$/, '').replace(/\d+(\.\d+)?/g, (n) => feet(Number(n)))}`).join('; ')
}

/** `twin_socket` as words. */
export function words(key: string): string {
  return key.replaceAll('_', ' ')
}

/** A trade as it is addressed. */
export const trade = (role: string) => (role === 'stone' ? 'stone and tile layer' : words(role))

/** A whole thing as the job file has it, without the marks of its writing: `front: open, drawers: 1`. */
export function plainly(written: string): string {
  if (/^[a-z0-9_]+$/.test(written)) return words(written)
  if (!/^[[{(]/.test(written)) return /, |; /.test(written) ? written.replace(/\bref (?=[A-Z])/g, '').replace(/([a-z])_(?=[a-z])/g, '$1 ') : written
  return written
    .replace(/[{}[\]()'"]/g, '')
    .replace(/\bref /g, '')
    .replace(/\bTrue\b/g, 'yes')
    .replace(/\bFalse\b/g, 'no')
    .replaceAll('_', ' ')
    .trim()
}

interface Moved {
  kind: string
  ref: string
  says: string
  from: number
  to: number
  unit: string
}

/** What moved along with a step, shortest first to the eye: sizes one by one, outlets by their names. Empty where nothing did. */
export function movedLine(moved: readonly Moved[], units: Units): string {
  const one = (m: Moved, mm: number) => (m.unit === 'mm' ? length(mm, units) : `${Math.round(mm * 10) / 10}${m.unit}`)
  const said = moved.filter((m) => m.kind !== 'outlet').map((m) => `${m.says} ${one(m, m.from)} → ${one(m, m.to)}`)
  const outlets = [...new Set(moved.filter((m) => m.kind === 'outlet').map((m) => m.ref))]
  if (outlets.length) said.push(`outlet${outlets.length > 1 ? 's' : ''} ${outlets.join(' ')}`)
  return said.join(', ')
}
