// The page's whole memory: the state the engine gave, what is being dragged, what is chosen. It derives nothing of the wall.
import * as api from './api'
import type { Box, Change, Finding, Look, Mark, Spot, State, Thing, Things, Why } from './api'
import { Follow } from './follow'
import { me } from './me.svelte'
import { changeOf, type Pulled } from './pulled'
import { mustBeFixed } from './severity'
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

/** A state with the parts of it that were looked at. Marks of what stays where it is are not told again. */
export function laidOver(state: State, look: Look): State {
  const rod = (kept: readonly Mark[], told: readonly Mark[]) => {
    const of = new Set(told.map((mark) => mark.of))
    return [...kept.filter((mark) => !of.has(mark.of)), ...told].sort((a, b) => a.at - b.at)
  }
  const rods = { heights: rod(state.rods.heights, look.rods.heights), widths: rod(state.rods.widths, look.rods.widths) }
  return { ...state, ...look, rods }
}

class Studio {
  /** As kept in the job file. */
  kept = $state.raw<State | null>(null)
  /** As the engine draws it for the drag that is going on. */
  tried = $state.raw<State | null>(null)
  /** The drag as it was last weighed, with its findings and money. */
  weighed = $state.raw<State | null>(null)
  /** Marks being moved, where the pointer has them. */
  moving = $state.raw<Record<string, number>>({})
  /** A thing being dragged that has no mark on a rod, and where its values would be. */
  pulled = $state.raw<Pulled | null>(null)
  /** What can be chosen besides units and the screen. */
  things = $state.raw<Things | null>(null)
  thing = $state('')
  mark = $state('')
  place = $state.raw<Box | null>(null)
  /** The step of the trade's order whose findings are shown; '' = all. */
  stage = $state('')
  said = $state('')
  trouble = $state('')
  /** What another program or page did to the job meanwhile. */
  news = $state('')
  /** What others did while one's own last change was on its way: it was laid over that. */
  meanwhile = $state.raw<string[]>([])
  busy = $state(false)
  units = $state<Units>('mm')
  scale = 20
  asked = $state.raw<Asked | null>(null)
  question = $state.raw<Question | null>(null)

  shown = $derived(this.tried ?? this.kept)
  /** What is told beside the wall: changes less often than the drawing while one drags. */
  told = $derived(this.weighed ?? this.kept)
  moved = $derived(this.shown ? movedLine(this.shown.moved, this.units) : '')

  private looked: Look | null = null
  private readonly tries = new Follow<Change, Look, State>(
    (change) => api.lookAt(change, this.kept!.position, this.scale),
    (change) => api.tryOut(change, this.kept!.position, this.scale),
    (look) => {
      this.looked = look
      this.tried = laidOver(this.weighed ?? this.kept!, look)
      this.trouble = ''
    },
    (state) => {
      this.weighed = state
      this.tried = this.looked ? laidOver(state, this.looked) : state // the hand may have gone on meanwhile
    },
    (problem) => this.refused(problem, false),
  )

  /** Whether something is held in the hand, or being saved. */
  held = () => this.busy || this.pulled !== null || Object.keys(this.moving).length > 0

  /** Turn to a job; '' = the one that is open by itself. */
  async begin(id: string): Promise<void> {
    api.setJob(id)
    this.cancel()
    this.kept = null
    this.things = null
    this.thing = this.mark = this.stage = this.trouble = this.news = this.said = ''
    this.meanwhile = []
    await this.open()
  }

  async open(): Promise<void> {
    try {
      this.kept = await api.getState(this.scale)
      this.units = this.kept.job.units
    } catch (problem) {
      this.refused(problem)
    }
  }

  private lookedAt = -1
  /** What is told is that nothing answered. */
  silent = $state(false)

  /** What can be chosen, read anew where the job has moved. */
  async lookRound(): Promise<void> {
    const position = this.kept?.position
    if (position === undefined || position === this.lookedAt) return
    this.lookedAt = position
    try {
      const things = await api.getThings()
      if (this.lookedAt === position) this.things = things
    } catch {
      if (this.lookedAt === position) this.lookedAt = -1 // without signal the wall is still shown; the next change asks again
    }
  }

  /** The state as it was told with its cures: it is not asked about again. */
  private cured: State | null = null

  /** The cures that no edit waits for, since they are found by trying them: asked for once their findings are shown. */
  async cures(): Promise<void> {
    const seen = this.kept
    if (!seen || seen === this.cured) return
    try {
      const { position, cures } = await api.getCures()
      if (this.kept !== seen || position !== seen.position) return
      const found = new Map(cures.map(({ finding, ...cure }) => [finding, cure]))
      this.kept = this.cured = { ...seen, findings: seen.findings.map((finding, i) => ({ ...finding, ...found.get(i) })) }
    } catch {
      // without signal the findings stand as they are; the next change asks again
    }
  }

  /** See whether the job changed under the page: the file on the disk, or by another page. */
  async look(): Promise<void> {
    const seen = this.kept
    if (!seen || this.held() || me.ended) return
    // an answer that began before one's own change ended says nothing of the wall that is shown by now
    const passed = () => this.kept !== seen || this.held()
    try {
      const now = await api.watch()
      if (this.silent) this.trouble = '' // it answers again
      this.silent = false
      if (passed()) return
      const same = now.trouble?.says === seen.trouble?.says && now.trouble?.line === seen.trouble?.line
      if (now.position === seen.position && same) return
      const read = seen.trouble && !now.trouble
      const kept = await api.getState(this.scale)
      if (passed()) return
      if (kept.position !== seen.position) {
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
      if (this.held() || this.scale !== scale) return // one's own change is answered at the newest scale
      // a change that came meanwhile is told, not taken over in silence
      if (state.position !== this.kept?.position) await this.look()
      else this.kept = state
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
    if (me.reads) return
    this.moving = marks
    if (!this.busy) this.tries.push({ marks }) // while a step is being saved there is no state to try it on
  }

  /** Drag a thing by the edit that moves it. spot : another place that it snapped to */
  pull(thing: Thing, across: number, up: number, spot: Spot | null = null): void {
    if (me.reads) return
    this.pulled = { thing, across, up, spot }
    if (!this.busy) this.tries.push(this.change(this.pulled))
  }

  private change(pulled: Pulled): Change {
    // the edit that moves it may be another once it is pinned
    const now = [...(this.things?.wall ?? []), ...(this.things?.plan ?? [])].find((one) => one.ref === pulled.thing.ref && one.move)
    return changeOf(pulled, now?.move ?? pulled.thing.move!)
  }

  /** Let go: what was dragged becomes one edit. */
  async drop(): Promise<void> {
    const { moving: marks, pulled } = this
    this.tries.clear()
    if (pulled) {
      await this.last
      await this.edit(this.change(pulled))
    } else if (Object.keys(marks).length) await this.edit({ marks })
    // a key pressed while this was being saved goes on from here: it is dropped in its turn
    if (this.moving === marks && this.pulled === pulled) this.cancel()
    else this.untried()
  }

  cancel(): void {
    this.tries.clear()
    this.moving = {}
    this.pulled = null
    this.untried()
  }

  private untried(): void {
    this.tried = this.weighed = this.looked = null
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

  /** One edit by its name. */
  async does(edit: string, values: Record<string, unknown>): Promise<boolean> {
    return this.edit({ edit, with: values, also: [], marks: {} })
  }

  /** Back to a moment of the history. */
  async putBack(moment: number): Promise<boolean> {
    return (await this.make(() => api.putBack(moment, this.kept!.position, this.scale))) !== null
  }

  /** Accept or refuse a change that was told. */
  async decide(accept: boolean, decision: api.Decision): Promise<boolean> {
    return (await this.make(() => api.decide(accept, decision, this.kept!.position, this.scale))) !== null
  }

  /** Write what the site found into the job. */
  async takeFound(found: api.Found): Promise<boolean> {
    return (await this.make(() => api.takeFound(found, this.kept!.position, this.scale))) !== null
  }

  /** Take over a state that came by another way: readings from site. One that is older than what is shown is not. */
  take(state: State): void {
    if (!this.kept || state.position >= this.kept.position) this.kept = state
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
        this.meanwhile = answer.meanwhile
        this.tell(before, answer)
        // until what can be dragged has been read anew, a key would move a thing from where it stood before
        if (this.things) await this.lookRound()
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
      const why = problem.trouble.says ? ` ${problem.trouble.says[0]!.toUpperCase()}${problem.trouble.says.slice(1)}.`.replace(/\.\.$/, '.') : ''
      this.trouble = `The job was changed elsewhere meanwhile.${why} This is how it stands now; do your change again.`
      return
    }
    this.silent = problem.status === 0
    const { field, value, says } = problem.trouble
    this.trouble = value && !says.includes(value) ? `${field} ${value}: ${says}` : says
  }
}

export const studio = new Studio()
