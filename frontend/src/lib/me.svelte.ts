import { type Here, setCsrf, whenEnded } from './api'

const FIRST = 'wallwright-first' // which job `serve JOB` opened last, so that a phone finds it without signal

/** Who is here, as the engine knows it. */
class Me {
  here = $state.raw<Here | null>(null)
  /** Without signal nobody can say who is here: only what is kept on the phone is shown. */
  away = $state(false)
  /** A reader looks and does not change. */
  reads = $derived(this.here?.role === 'reader')

  /** The session has ended while the page is at work: the page stays, and asks to sign in again. */
  ended = $state(false)
  private waits: ((same: boolean) => void)[] = []

  constructor() {
    whenEnded(() => {
      if (this.here?.mode !== 'hosted' || !this.here.role) return Promise.resolve(false)
      this.ended = true
      return new Promise((done) => this.waits.push(done))
    })
  }

  take(here: Here): void {
    if (this.ended && here.name !== this.here?.name) return location.assign('/') // another person's page begins anew
    setCsrf(here.csrf)
    this.here = here
    this.away = false
    this.ended = false
    this.waits.splice(0).forEach((done) => done(true))
    localStorage.setItem(FIRST, here.first)
  }

  without(): void {
    this.here = { mode: 'local', name: '', role: 'designer', csrf: '', first: localStorage.getItem(FIRST) ?? '' }
    this.away = true
  }
}

export const me = new Me()
