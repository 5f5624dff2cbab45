import type { Mark } from './api'

/** Whether a value is given, derived, comes of given values, or was taken on site: each by a sign of its own shape. */
export const STANDING: Record<Mark['standing'], string> = { pinned: '●', automatic: '○', follows: '↳', surveyed: '▪' }

export function stands(mark: Pick<Mark, 'standing' | 'follows'>): string {
  return mark.standing === 'follows' && mark.follows ? `follows ${mark.follows}` : mark.standing
}
