import * as api from './api'
import type { Study } from './api'

const EVERY = 400 // ms between two looks at a study

/** One slow question: asked, watched, cancelled, answered. A study goes on in the background; a page opened anew finds it again. */
export class Asking {
  study = $state.raw<Study | null>(null)
  answer = $state.raw<Record<string, unknown> | null>(null)
  trouble = $state('')
  private turn = 0

  constructor(private readonly kind: Study['kind']) {}

  /** The newest of its kind that there is already. */
  async find(fits: (study: Study) => boolean = () => true): Promise<void> {
    try {
      const { studies } = await api.getStudies()
      const found = studies.find((one) => one.kind === this.kind && one.state !== 'cancelled' && one.state !== 'failed' && fits(one))
      if (found) await this.follow(found)
    } catch (problem) {
      this.trouble = api.inWords(problem)
    }
  }

  async ask(question: Record<string, string | number>, position: number): Promise<void> {
    this.trouble = ''
    this.answer = null
    try {
      await this.follow(await api.startStudy(this.kind, question, position))
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
      this.study = await api.getStudy(study.id)
    }
    if (turn === this.turn && this.study.state === 'done') this.answer = (await api.getAnswer(study.id)).answer
  }
}
