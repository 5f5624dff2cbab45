// What each cure would add to the price: asked one after the other when nothing else is going on, so that no step waits for it.
import * as api from './api'
import type { Finding } from './api'

const QUIET = 1000 // ms without a change before the first price is asked for

export class Prices {
  /** By the cure's edits as text. */
  shown = $state.raw<Record<string, string>>({})
  private turn = 0
  private timer: ReturnType<typeof setTimeout> | undefined

  /** The cures of a wall that stands. busy : whether something else is being done just now */
  ask(findings: readonly Finding[], position: number, busy: () => boolean): void {
    this.stop()
    this.shown = {}
    const turn = this.turn
    this.timer = setTimeout(() => void this.go(findings, position, busy, turn), QUIET)
  }

  stop(): void {
    this.turn += 1
    clearTimeout(this.timer)
  }

  private async go(findings: readonly Finding[], position: number, busy: () => boolean, turn: number): Promise<void> {
    for (const finding of findings) {
      const key = keyOf(finding)
      if (!finding.edits.length || key in this.shown) continue
      while (busy()) {
        await new Promise((done) => setTimeout(done, QUIET))
        if (turn !== this.turn) return
      }
      try {
        const { shown } = await api.priceOf({ also: finding.edits, marks: {} }, position)
        if (turn !== this.turn) return
        this.shown = { ...this.shown, [key]: shown }
      } catch {
        if (turn !== this.turn) return
        this.shown = { ...this.shown, [key]: '' } // the button itself will tell why
      }
    }
  }
}

export const keyOf = (finding: Finding) => JSON.stringify(finding.edits)
