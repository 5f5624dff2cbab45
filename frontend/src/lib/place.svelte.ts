// Where in the studio one is: the address says it. `/` the jobs, `/job/ID` a wall, `/link#TOKEN` a guest; `#/NAME` a room of it.
export interface Place {
  page: 'home' | 'job' | 'link'
  job: string
  room: string
}

export function placeOf(path: string, hash: string): Place {
  const job = /^\/job\/([0-9a-f]{32})$/.exec(path)
  const room = hash.startsWith('#/') ? hash.slice(2) : ''
  if (job) return { page: 'job', job: job[1]!, room }
  return { page: path === '/link' ? 'link' : 'home', job: '', room }
}

class Where {
  place = $state.raw<Place>(placeOf(location.pathname, location.hash))

  constructor() {
    const read = () => {
      // an anchor within the page (#findings) is no other room
      if (location.hash && !location.hash.startsWith('#/') && this.place.page !== 'link') return
      this.place = placeOf(location.pathname, location.hash)
    }
    window.addEventListener('popstate', read)
    window.addEventListener('hashchange', read)
  }

  go(path: string): void {
    history.pushState(null, '', path)
    this.place = placeOf(location.pathname, location.hash)
    window.scrollTo(0, 0)
  }

  /** Another room of the same page. */
  room(name: string): void {
    history.pushState(null, '', name ? `#/${name}` : location.pathname)
    this.place = { ...this.place, room: name }
  }
}

export const where = new Where()
