import type { Box, Finding } from './api'

/** Severity in a word and a sign of its own shape, so that nothing hangs on colour. Worst first. */
export const WORD = { danger: 'Danger', fix: 'Fix', consider: 'Consider', note: 'Note' } as const
export const SIGN = { danger: '▲', fix: '◆', consider: '○', note: '–' } as const
export const SEVERITIES = ['danger', 'fix', 'consider', 'note'] as const
export type Severity = (typeof SEVERITIES)[number]

export const mustBeFixed = (finding: { severity: Severity }) => finding.severity === 'danger' || finding.severity === 'fix'

export interface Flag {
  first: number
  worst: Severity
  says: string[]
  x: number
  y: number
}

type Placed = Finding & { at: Box }

/** The thing that a part, a bay or a shelf belongs to: C1 of `C1.2-top`. */
const thingOf = (where: string) => where.split(/[.\- ]/)[0]!

/** One flag for each thing that findings speak of; flags that would lie over one another become one. Notes get none. */
export function flagged(findings: readonly Finding[], place: (finding: Placed) => { x: number; y: number }, apart = 26): Flag[] {
  const flags: (Flag & { where: string })[] = []
  findings.forEach((finding, first) => {
    if (!finding.at || finding.severity === 'note') return
    const at = place(finding as Placed)
    const there = flags.find(
      (flag) => flag.where === thingOf(finding.where) || (Math.abs(flag.x - at.x) < apart && Math.abs(flag.y - at.y) < apart),
    )
    if (there) there.says.push(finding.says)
    else flags.push({ first, worst: finding.severity, says: [finding.says], where: thingOf(finding.where), ...at })
  })
  return flags
}
