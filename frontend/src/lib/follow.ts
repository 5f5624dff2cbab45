// The wall follows the hand: how it would look at every step, what comes of it (findings, money) a few times a second.
import { Newest } from './newest'

/** The least time between the end of one weighing and the next, in ms: weighing takes the engine as long as many looks. */
export const EVERY = 300

export class Follow<In, Look, State> {
  private readonly looks: Newest<In, Look>
  private readonly weighs: Newest<In, State>
  private newest: In | null = null
  private weighed: In | null = null
  private timer: ReturnType<typeof setTimeout> | undefined

  constructor(
    look: (value: In) => Promise<Look>,
    weigh: (value: In) => Promise<State>,
    looked: (out: Look) => void,
    told: (out: State) => void,
    failed: (problem: unknown) => void,
  ) {
    this.looks = new Newest(look, looked, failed)
    this.weighs = new Newest(
      weigh,
      (out) => {
        told(out)
        this.weighLater()
      },
      (problem) => {
        failed(problem)
        this.weighLater()
      },
    )
  }

  push(value: In): void {
    this.newest = value
    this.looks.push(value)
    if (this.weighed === null) this.weighLater()
  }

  /** Forget all that waits, and do not hear what is still on its way. */
  clear(): void {
    this.looks.clear()
    this.weighs.clear()
    clearTimeout(this.timer)
    this.timer = undefined
    this.newest = this.weighed = null
  }

  /** The newest, where that is not weighed yet. */
  private weighLater(): void {
    if (this.timer !== undefined) return
    this.timer = setTimeout(() => {
      this.timer = undefined
      const { newest } = this
      if (newest === null) return
      if (newest === this.weighed) {
        this.weighed = null // nothing new: the next step begins anew
        return
      }
      this.weighed = newest
      this.weighs.push(newest)
    }, EVERY)
  }
}
