/** One call on its way and the newest waiting; what came between is dropped. Never aborts: that would starve the drawing. */
export class Newest<In, Out> {
  private busy = false
  private waiting: { value: In } | null = null
  private turn = 0

  constructor(
    private readonly run: (value: In) => Promise<Out>,
    private readonly done: (out: Out) => void,
    private readonly failed: (problem: unknown) => void = () => {},
  ) {}

  push(value: In): void {
    this.waiting = { value }
    if (!this.busy) void this.pump()
  }

  /** Forget what waits, and do not hear what is still on its way. */
  clear(): void {
    this.waiting = null
    this.turn += 1
  }

  private async pump(): Promise<void> {
    this.busy = true
    while (this.waiting) {
      const { value } = this.waiting
      this.waiting = null
      const turn = this.turn
      try {
        const out = await this.run(value)
        if (turn === this.turn) this.done(out)
      } catch (problem) {
        if (turn === this.turn) this.failed(problem)
      }
    }
    this.busy = false
  }
}
