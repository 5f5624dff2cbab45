// How numbers are shown. The engine reads and writes lengths; here they only get their last shape for the eye.
export type Units = 'mm' | 'ft-in'

/** 1480, 12.5; or 9'-4 3/8" to the nearest eighth, as the engine's own `show_feet` has it. */
export function length(mm: number, units: Units): string {
  if (units === 'ft-in') return feet(mm)
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

/** A measured value or limit with its unit; lengths in the units shown. */
export function value(what: number | string, unit: string, units: Units): string {
  if (typeof what === 'string') return unit ? `${what} ${unit}` : what
  if (unit === 'mm') return withUnit(what, units)
  const number = Number.isInteger(what) ? String(what) : String(Math.round(what * 1000) / 1000)
  return unit === '°' || unit === 'deg' ? `${number}°` : unit ? `${number} ${unit}` : number
}

/** `twin_socket` as words. */
export function words(key: string): string {
  return key.replaceAll('_', ' ')
}
