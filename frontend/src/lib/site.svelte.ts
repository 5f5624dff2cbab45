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

export class Site {
  waiting = $state.raw<Taken[]>([])
  fates = $state.raw<(ReadingFate & { what: string })[]>([])
  trouble = $state('')
  sending = $state(false)
  private readonly key: string

  constructor(job: string) {
    this.key = `wallwright-site-${job || 'open'}`
    this.waiting = kept(localStorage.getItem(this.key))
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
      this.fates = [...batch.flatMap((one) => (told.has(one.id) ? [{ ...told.get(one.id)!, what: one.says }] : [])), ...this.fates].slice(0, 30)
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
    localStorage.setItem(this.key, JSON.stringify(waiting))
  }
}
