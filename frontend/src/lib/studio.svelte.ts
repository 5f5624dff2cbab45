// The page's whole memory: the state the engine gave, what is being dragged, what is chosen. It derives nothing of the wall.
import * as api from './api'
import type { Box, Change, Finding, State, Why } from './api'
import { mustBeFixed } from './severity'
import { Newest } from './newest'
import { movedLine, type Units, withUnit } from './show'

export interface Asked {
  name: string
  whys: Why[] | null
  trouble: string
}

/** The engine asks before it makes a change that looks like a slip. */
export interface Question {
  ask: string
  answer: (sure: boolean) => void
}

class Studio {
  /** As kept in the job file. */
  kept = $state.raw<State | null>(null)
  /** As the engine derives it for the drag that is going on. */
  tried = $state.raw<State | null>(null)
  /** Marks being moved, where the pointer has them. */
  moving = $state.raw<Record<string, number>>({})
  thing = $state('')
  mark = $state('')
  place = $state.raw<Box | null>(null)
  /** The step of the trade's order whose findings are shown; '' = all. */
  stage = $state('')
  said = $state('')
  trouble = $state('')
  /** What another program or page did to the job meanwhile. */
  news = $state('')
  busy = $state(false)
  units = $state<Units>('mm')
  scale = 20
  asked = $state.raw<Asked | null>(null)
  question = $state.raw<Question | null>(null)

  shown = $derived(this.tried ?? this.kept)
  moved = $derived(this.shown ? movedLine(this.shown.moved, this.units) : '')

  private readonly tries = new Newest<Change, State>(
    (change) => api.tryOut(change, this.kept!.position, this.scale),
    (state) => {
      this.tried = state
      this.trouble = ''
    },
    (problem) => this.refused(problem, false),
  )

  async open(): Promise<void> {
    try {
      this.kept = await api.getState(this.scale)
      this.units = this.kept.job.units
    } catch (problem) {
      this.refused(problem)
    }
  }

  /** See whether the job changed under the page: the file on the disk, or by another page. */
  async look(): Promise<void> {
    if (!this.kept || this.busy || Object.keys(this.moving).length) return
    try {
      const now = await api.watch()
      if (!this.kept || this.busy || Object.keys(this.moving).length) return
      const same = now.trouble?.says === this.kept.trouble?.says && now.trouble?.line === this.kept.trouble?.line
      if (now.position === this.kept.position && same) return
      const read = this.kept.trouble && !now.trouble
      const kept = await api.getState(this.scale)
      if (this.busy || Object.keys(this.moving).length) return
      if (now.position !== this.kept.position) {
        this.news = now.from_file
          ? 'The job file was changed by another program: reloaded.'
          : 'The job was changed on another page: this is how it stands now.'
      } else this.news = read ? 'The job file can be read again.' : ''
      this.kept = kept
    } catch (problem) {
      this.refused(problem, false)
    }
  }

  /** Line widths for another size of drawing. */
  async rescale(scale: number): Promise<void> {
    if (scale === this.scale) return
    this.scale = scale
    if (!this.kept) return
    try {
      const state = await api.getState(scale)
      if (!Object.keys(this.moving).length) this.kept = state
    } catch (problem) {
      this.refused(problem)
    }
  }

  at(name: string): number | undefined {
    const rods = this.kept?.rods
    return rods && [...rods.heights, ...rods.widths].find((mark) => mark.name === name)?.at
  }

  choose(thing: string, mark = ''): void {
    this.thing = thing
    this.mark = mark
  }

  drag(marks: Record<string, number>): void {
    this.moving = marks
    this.tries.push({ marks })
  }

  /** Let go: what was dragged becomes one edit. */
  async drop(): Promise<void> {
    const marks = this.moving
    this.tries.clear()
    if (Object.keys(marks).length) await this.edit({ marks })
    this.cancel()
  }

  cancel(): void {
    this.tries.clear()
    this.moving = {}
    this.tried = null
  }

  /** Make a change; false where it was refused. The engine may ask first: then it waits for the answer, and no is no refusal. */
  async edit(change: Change): Promise<boolean> {
    const made = await this.make(() => api.edit(change, this.kept!.position, this.scale))
    if (!made || !('ask' in made)) return made !== null
    const sure = await new Promise<boolean>((answer) => (this.question = { ask: made.ask, answer }))
    this.question = null
    if (!sure) return true
    return (await this.make(() => api.edit({ ...change, sure: true }, this.kept!.position, this.scale))) !== null
  }

  async put(mark: string, at: number | string): Promise<boolean> {
    return this.edit({ marks: { [mark]: at } })
  }

  async cure(finding: Finding): Promise<boolean> {
    return this.edit({ also: finding.edits })
  }

  async release(fields: readonly string[]): Promise<boolean> {
    return this.edit({ also: fields.map((field) => ({ edit: 'release', with: { field } })) })
  }

  async step(which: 'undo' | 'redo'): Promise<void> {
    const now = this.kept
    if (!now || (which === 'undo' ? !now.can_undo : !now.can_redo)) return
    await this.make(() => api.step(which, this.kept!.position, this.scale))
  }

  async explain(name: string): Promise<void> {
    this.asked = { name, whys: null, trouble: '' }
    try {
      const { whys } = await api.getWhy(name)
      if (this.asked?.name === name) this.asked = { name, whys, trouble: '' }
    } catch (problem) {
      if (this.asked?.name === name) this.asked = { name, whys: [], trouble: problem instanceof Error ? problem.message : '' }
    }
  }

  private last: Promise<unknown> = Promise.resolve()
  private underway = 0

  /** One change after the other, each from the state that the one before it left; null where it was refused. */
  private make(call: () => Promise<State | api.Asked>): Promise<State | api.Asked | null> {
    this.underway += 1
    this.busy = true
    const mine = this.last.then(async () => {
      try {
        const before = this.kept
        const answer = await call()
        this.trouble = ''
        if ('ask' in answer) return answer
        this.kept = answer
        this.news = ''
        this.tell(before, answer)
        return answer
      } catch (problem) {
        this.refused(problem)
        return null
      } finally {
        this.underway -= 1
        this.busy = this.underway > 0
      }
    })
    this.last = mine.catch(() => {})
    return mine
  }

  /** Say aloud what came of a change. */
  private tell(before: State | null, now: State): void {
    const must = (state: State) => state.findings.filter(mustBeFixed).length
    const height = withUnit(now.screen.centre_height, this.units)
    const also = movedLine(now.moved, this.units)
    const findings = before && must(before) !== must(now) ? ` ${must(now)} to fix, before ${must(before)}.` : ''
    this.said = `Saved. Screen centre ${height}, ${now.money.total_shown}.${also ? ` Also moved: ${also}.` : ''}${findings}`
  }

  private refused(problem: unknown, take = true): void {
    if (!(problem instanceof api.Refused)) throw problem
    if (take && problem.status === 409 && problem.state) {
      this.kept = problem.state
      this.trouble = 'The job was changed elsewhere meanwhile. This is how it stands now; do your change again.'
      return
    }
    const { field, value, says } = problem.trouble
    this.trouble = value && !says.includes(value) ? `${field} ${value}: ${says}` : says
  }
}

export const studio = new Studio()
