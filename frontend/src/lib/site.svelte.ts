// Readings taken on site: kept on the phone until the studio has said that it holds them.
import * as api from './api'
import type { Reading, ReadingFate } from './api'
import { me } from './me.svelte'
import { studio } from './studio.svelte'

const MOST = 400 // of one sending; the studio takes 500

export interface Taken extends Reading {
  /** As it is told on the phone. */
  says: string
}

/** What is kept on the phone, read with care: it may be of an older page, or spoilt. */
export function kept(text: string | null): Taken[] {
  try {
    const read: unknown = JSON.parse(text ?? '[]')
    return Array.isArray(read) ? read.filter((one): one is Taken => typeof one?.id === 'string' && typeof one?.taken === 'number' && typeof one?.call?.edit === 'string') : []
  } catch {
    return []
  }
}

/** What became of a reading that was not used, with the reading itself: it stays until somebody has seen it. */
export interface Unused extends Taken {
  state: ReadingFate['state']
  why: string
}

/** The plumb grid as it is being filled in: the places it was begun with, and what was typed at each. */
export interface Grid {
  columns: number[]
  rows: number[]
  typed: Record<string, string>
}

export class Site {
  waiting = $state.raw<Taken[]>([])
  unused = $state.raw<Unused[]>([])
  grid = $state.raw<Grid | null>(null)
  /** The wall's size as last heard: places to measure at are offered without signal too. */
  size = $state.raw({ width: 4000, height: 2700 })
  trouble = $state('')
  sending = $state(false)
  private readonly key: string

  constructor(job: string) {
    this.key = `wallwright-site-${job || 'open'}`
    this.waiting = kept(localStorage.getItem(this.key))
    this.unused = kept(localStorage.getItem(`${this.key}-unused`)).filter((one): one is Unused => 'why' in one)
    const draft = read(localStorage.getItem(`${this.key}-draft`)) as { grid?: Grid; size?: Site['size'] } | null
    if (Array.isArray(draft?.grid?.columns) && Array.isArray(draft.grid.rows) && draft.grid.typed) this.grid = draft.grid
    if (draft?.size && draft.size.width > 0 && draft.size.height > 0) this.size = draft.size
  }

  /** The wall as the studio has it now. */
  learn(size: Site['size']): void {
    if (size.width === this.size.width && size.height === this.size.height) return
    this.size = size
    this.draft()
  }

  type(grid: Grid): void {
    this.grid = grid
    this.draft()
  }

  /** It was seen, and nothing more is to be done about it. */
  seen(id: string): void {
    this.stays(this.unused.filter((one) => one.id !== id))
  }

  /** A reading that an older one was taken for stands after all: it is taken anew. */
  insist(id: string): void {
    const one = this.unused.find((unused) => unused.id === id)
    this.seen(id)
    if (one) this.take(one.call.edit ?? '', one.call.with ?? {}, one.says)
  }

  /** Keep a reading, then send what can be sent. */
  take(edit: string, values: Record<string, unknown>, says: string): void {
    const id = `${Date.now().toString(36)}-${crypto.getRandomValues(new Uint32Array(2)).join('-')}`
    this.keep([...this.waiting, { id, taken: Date.now() / 1000, call: { edit, with: values }, says }])
    void this.send()
  }

  drop(id: string): void {
    this.keep(this.waiting.filter((one) => one.id !== id))
  }

  async send(): Promise<void> {
    if (this.sending || !this.waiting.length) return
    this.sending = true
    try {
      if (!me.here || !me.here.role || me.away) me.take(await api.here())
      const batch = this.waiting.slice(0, MOST)
      const got = await api.sendReadings(batch.map(({ id, taken, call }) => ({ id, taken, call })), studio.scale)
      const told = new Map(got.readings.map((one) => [one.id, one]))
      const fresh = batch.flatMap((one) => {
        const fate = told.get(one.id)
        return fate && fate.state !== 'made' ? [{ ...one, state: fate.state, why: fate.says }] : []
      })
      if (fresh.length) this.stays([...fresh, ...this.unused])
      this.keep(this.waiting.filter((one) => !told.has(one.id)))
      studio.take(got.state)
      this.trouble = ''
    } catch (problem) {
      this.trouble = problem instanceof api.Refused && problem.status === 0 ? 'No signal: it is kept on this phone and sent later.' : api.inWords(problem)
    } finally {
      this.sending = false
    }
  }

  private keep(waiting: Taken[]): void {
    this.waiting = waiting
    this.store('', waiting)
  }

  private stays(unused: Unused[]): void {
    this.unused = unused
    this.store('-unused', unused)
  }

  private draft(): void {
    this.store('-draft', { grid: this.grid, size: this.size })
  }

  private store(what: string, value: unknown): void {
    try {
      localStorage.setItem(this.key + what, JSON.stringify(value))
    } catch {
      this.trouble = 'This phone keeps nothing for the page: leave it open until all is sent.'
    }
  }
}

function read(text: string | null): unknown {
  try {
    return JSON.parse(text ?? 'null')
  } catch {
    return null
  }
}
