/** Of answers that may come in another order than they were asked for, only the newest counts. */
export class Turn {
  private at = 0

  /** Begin a question; gives what tells whether it is still the newest. */
  next(): () => boolean {
    const mine = ++this.at
    return () => mine === this.at
  }
}
