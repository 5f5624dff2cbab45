import * as api from './api'
import type { Study } from './api'

const EVERY = 400 // ms between two looks at a study
const PATIENCE = 15 // looks that may fail for want of signal, one after the other

/** One slow question: asked, watched, cancelled, answered. A study goes on in the background; a page opened anew finds it again. */
export class Asking {
  study = $state.raw<Study | null>(null)
  answer = $state.raw<Record<string, unknown> | null>(null)
  trouble = $state('')
  private turn = 0

  constructor(private readonly kind: Study['kind']) {}

  /** The newest of its kind that there is already. */
  async find(fits: (study: Study) => boolean = () => true): Promise<void> {
    const turn = this.turn
    try {
      const { studies } = await api.getStudies()
      if (turn !== this.turn) return // a question was asked meanwhile
      const found = studies.find((one) => one.kind === this.kind && one.state !== 'cancelled' && one.state !== 'failed' && fits(one))
      if (found) await this.follow(found)
    } catch (problem) {
      this.trouble = api.inWords(problem)
    }
  }

  async ask(question: Record<string, string | number>, position: number): Promise<void> {
    this.trouble = ''
    this.answer = null
    const turn = ++this.turn
    try {
      const study = await api.startStudy(this.kind, question, position)
      if (turn === this.turn) await this.follow(study)
    } catch (problem) {
      this.trouble = api.inWords(problem)
    }
  }

  async cancel(): Promise<void> {
    if (!this.study) return
    this.turn += 1
    try {
      this.study = await api.cancelStudy(this.study.id)
    } catch (problem) {
      this.trouble = api.inWords(problem)
    }
  }

  /** Whether it still speaks of the wall as it stands. */
  async look(): Promise<void> {
    const study = this.study
    if (!study || study.state === 'queued' || study.state === 'running') return
    try {
      const now = await api.getStudy(study.id)
      if (this.study === study) this.study = now
    } catch {
      // without signal it stays as it was told last
    }
  }

  leave(): void {
    this.turn += 1
  }

  private async follow(study: Study): Promise<void> {
    const turn = ++this.turn
    this.study = study
    while (turn === this.turn && (this.study.state === 'queued' || this.study.state === 'running')) {
      await new Promise((wait) => setTimeout(wait, EVERY))
      if (turn !== this.turn) return
      const now = await this.patiently(() => api.getStudy(study.id))
      if (turn !== this.turn) return // it was stopped, or another asked, while this was on its way
      this.study = now
    }
    if (turn !== this.turn || this.study.state !== 'done') return
    const { answer } = await this.patiently(() => api.getAnswer(study.id))
    if (turn === this.turn) this.answer = answer
  }

  /** A study outlives a lost signal: what only looks is asked again a few times. */
  private async patiently<T>(look: () => Promise<T>): Promise<T> {
    for (let tries = 0; ; tries += 1) {
      try {
        return await look()
      } catch (problem) {
        const passing = problem instanceof api.Refused && (problem.status === 0 || problem.status === 429)
        if (!passing || tries >= PATIENCE) throw problem
        await new Promise((wait) => setTimeout(wait, EVERY * 5))
      }
    }
  }
}
