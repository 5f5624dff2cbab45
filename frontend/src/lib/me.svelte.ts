import { type Here, setCsrf } from './api'

const FIRST = 'wallwright-first' // which job `serve JOB` opened last, so that a phone finds it without signal

/** Who is here, as the engine knows it. */
class Me {
  here = $state.raw<Here | null>(null)
  /** Without signal nobody can say who is here: only what is kept on the phone is shown. */
  away = $state(false)
  /** A reader looks and does not change. */
  reads = $derived(this.here?.role === 'reader')

  take(here: Here): void {
    setCsrf(here.csrf)
    this.here = here
    this.away = false
    localStorage.setItem(FIRST, here.first)
  }

  without(): void {
    this.here = { mode: 'local', name: '', role: 'designer', csrf: '', first: localStorage.getItem(FIRST) ?? '' }
    this.away = true
  }
}

export const me = new Me()
