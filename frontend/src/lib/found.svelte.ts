// What was found on a visit, as it is being entered: kept on the phone until it is taken into the job.
import type { Found, State, Things } from './api'
import { typed } from './typed'

export interface Box {
  ref: string
  x: string
  z: string
  sunk: string
}
export interface Beam {
  ref: string
  kind: string
  x: string
  z: string
  width: string
  height: string
  projection: string
  gone: boolean
}
export interface Known {
  ref: string
  says: string
  kind: string
  x: number
  z: number
}
export interface Draft {
  by: string
  boxes: Box[]
  things: Beam[]
  grid: Record<string, string>
  widths: Record<string, string>
  ceiling: string
  plumb: string
  /** What the wall has, so that it can be chosen without signal. */
  known: { boxes: Known[]; things: Known[]; width: number; height: number }
}

const empty = (): Draft => ({
  by: '', boxes: [], things: [], grid: {}, widths: {}, ceiling: '', plumb: '', known: { boxes: [], things: [], width: 4000, height: 2700 },
})

/** A draft kept on the phone, read with care: it may be of an older page, or spoilt. */
export function draftOf(text: string | null): Draft {
  try {
    const read = JSON.parse(text ?? '{}') as Partial<Draft>
    const out = empty()
    for (const key of ['by', 'ceiling', 'plumb'] as const) if (typeof read[key] === 'string') out[key] = read[key]
    if (Array.isArray(read.boxes)) out.boxes = read.boxes.filter((one) => typeof one?.ref === 'string')
    if (Array.isArray(read.things)) out.things = read.things.filter((one) => typeof one?.ref === 'string')
    if (read.grid && typeof read.grid === 'object') out.grid = read.grid
    if (read.widths && typeof read.widths === 'object') out.widths = read.widths
    if (read.known && Array.isArray(read.known.boxes) && Array.isArray(read.known.things)) out.known = { ...out.known, ...read.known }
    return out
  } catch {
    return empty()
  }
}

const given = (text: string | undefined) => (text?.trim() ? typed(text) : null)

/** The draft as the engine reads it; what was left empty is not in it. */
export function foundOf(draft: Draft, date: string): Found {
  const filled = (of: Record<string, string>) => Object.entries(of).filter(([, text]) => text.trim())
  return {
    by: draft.by.trim() || null,
    date,
    boxes: draft.boxes.map((one) => ({ ref: one.ref, x: typed(one.x), z: typed(one.z), sunk: given(one.sunk) })),
    plumb: filled(draft.grid).map(([at, out]) => {
      const [x, z] = at.split(' ').map(Number)
      return { x: x!, z: z!, out: typed(out) }
    }),
    out_of_plumb: given(draft.plumb),
    widths: filled(draft.widths).map(([at, value]) => ({ at: Number(at), value: typed(value) })),
    heights: [],
    ceiling: given(draft.ceiling),
    things: draft.things.map((one) => ({
      ref: one.ref, kind: (one.kind || null) as 'beam' | null, x: given(one.x), z: given(one.z), width: given(one.width), height: given(one.height),
      projection: given(one.projection), stays: one.gone ? false : null,
    })),
    seats: [],
  }
}

export const anything = (draft: Draft) =>
  draft.boxes.length + draft.things.length > 0 || [...Object.values(draft.grid), ...Object.values(draft.widths), draft.ceiling, draft.plumb].some((text) => text.trim())

export class Visit {
  draft = $state<Draft>(empty())
  private readonly key: string

  constructor(job: string) {
    this.key = `wallwright-found-${job || 'open'}`
    this.draft = draftOf(localStorage.getItem(this.key))
  }

  keep(): void {
    localStorage.setItem(this.key, JSON.stringify(this.draft))
  }

  /** Begin anew: it is in the job. */
  clear(): void {
    this.draft = { ...empty(), by: this.draft.by, known: this.draft.known }
    this.keep()
  }

  /** What the wall has by now. */
  learn(now: State, things: Things | null): void {
    const boxes = now.points.filter((one) => one.kind !== 'led_feed').map((one) => ({ ref: one.ref, says: one.kind.replaceAll('_', ' '), kind: one.kind, x: one.x, z: one.z }))
    const seen = (things?.wall ?? []).filter((one) => one.kind === 'obstacle').map((one) => ({ ref: one.ref, says: one.says, kind: one.kind, x: one.box.x, z: one.box.z }))
    this.draft.known = { boxes, things: things ? seen : this.draft.known.things, width: now.wall.width, height: now.wall.height }
    this.keep()
  }
}
