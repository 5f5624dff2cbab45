// A photo of the wall as it is being marked: on this page alone, until the page is closed. What it tells, the studio works out.
import * as api from './api'
import { typed } from './typed'

export interface Px {
  x: number
  y: number
}
export interface Spot {
  ref: string
  px: Px
  x: string
  z: string
  out: string
}
export interface Rim {
  ref: string
  corners: Px[]
}
/** Marks one after the other: along a line that is straight on site, or around what stands in front. */
export interface Line {
  ref: string
  marks: Px[]
}
export type Kind = 'points' | 'boxes' | 'edges' | 'front'
export const LEAST_MARKS = 3 // of a line or an outline
const MOST_MARKS = 60
const MOST_LINES = { edges: 12, front: 20 }

const LONGEST = 2600 // px of the picture that is sent
const MOST_SENT = 2_800_000 // bytes of it; the studio takes 4 MB as text
const HEAD = 45_000 // bytes in which a camera writes about itself
const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'

/** The next name that no point has. */
export function nextName(taken: readonly string[]): string {
  for (let round = 0; ; round += 1) for (const letter of LETTERS) if (!taken.includes(letter + (round || ''))) return letter + (round || '')
}

/** The next name of a line or an outline: its letter and a number. */
export function nextLine(letter: string, taken: readonly string[]): string {
  let n = 1
  while (taken.includes(`${letter}${n}`)) n += 1
  return `${letter}${n}`
}

/** Kept within the picture, to a tenth of a pixel. */
export const within = (at: Px, size: Px): Px => ({
  x: Math.round(Math.min(Math.max(at.x, 0), size.x) * 10) / 10,
  y: Math.round(Math.min(Math.max(at.y, 0), size.y) * 10) / 10,
})


/** Lines that have marks enough to tell anything. */
export const complete = (lines: readonly Line[]) => lines.filter((one) => one.marks.length >= LEAST_MARKS)
const pairs = (lines: readonly Line[]) => complete(lines).map((one) => one.marks.map((at) => [at.x, at.y] as [number, number]))

/** The marks as the studio reads them: points with their sizes, boxes with both corners, lines and outlines with marks enough. */
export function marksOf(size: Px, focal: number | null, points: readonly Spot[], boxes: readonly Rim[], edges: readonly Line[] = [], front: readonly Line[] = []): api.Marks {
  return {
    edges: pairs(edges), front: pairs(front),
    size: [size.x, size.y], focal, pick: null, by: null,
    points: points.filter((one) => one.x.trim() && one.z.trim()).map((one) => ({
      ref: one.ref, px: [one.px.x, one.px.y], x: typed(one.x), z: typed(one.z), out: one.out.trim() ? typed(one.out) : null,
    })),
    boxes: boxes.filter((one) => one.corners.length === 2).map((one) => ({ ref: one.ref, corners: one.corners.map((at) => [at.x, at.y] as [number, number]) })),
  }
}

export class WallPhoto {
  image = $state.raw<HTMLImageElement | null>(null)
  size = $state.raw<Px>({ x: 0, y: 0 })
  focal = $state.raw<number | null>(null)
  lacks = $state('')
  points = $state<Spot[]>([])
  boxes = $state<Rim[]>([])
  edges = $state<Line[]>([])
  front = $state<Line[]>([])
  told = $state.raw<api.PhotoTold | null>(null)
  made = $state.raw<{ url: string; what: 'straight' | 'overlay' } | null>(null)
  trouble = $state('')
  busy = $state('')

  /** Another photo: what was marked in the one before is of no use in it. */
  async open(file: Blob): Promise<void> {
    this.trouble = ''
    const image = new Image()
    image.src = URL.createObjectURL(file)
    try {
      await image.decode()
    } catch {
      URL.revokeObjectURL(image.src)
      this.trouble = 'This file is no picture that the browser can show; share the photo as JPEG.'
      return
    }
    if (this.image) URL.revokeObjectURL(this.image.src)
    this.forget()
    this.points = []
    this.boxes = []
    this.edges = []
    this.front = []
    this.focal = null
    this.size = { x: image.naturalWidth, y: image.naturalHeight }
    this.image = image
    await this.asks('head', async () => {
      const head = await api.photoHead(await base64(file.slice(0, HEAD)))
      this.focal = head.focal
      this.lacks = head.lacks
    })
  }

  /** Marks were changed: what was told of them no longer holds. */
  forget(): void {
    this.told = null
    if (this.made) URL.revokeObjectURL(this.made.url)
    this.made = null
  }

  get marks(): api.Marks {
    return marksOf(this.size, this.focal, this.points, this.boxes, this.edges, this.front)
  }

  /** One more mark of a line or an outline; gives its number, or nothing where there are enough. Without a name a new one begins. */
  addTo(list: 'edges' | 'front', ref: string, px: Px): { ref: string; corner: number } | null {
    const there = this[list].find((one) => one.ref === ref)
    if (there ? there.marks.length >= MOST_MARKS : this[list].length >= MOST_LINES[list]) {
      this.trouble = there ? `${MOST_MARKS} marks are enough: begin another one.` : `${MOST_LINES[list]} are enough: throw one away first.`
      return null
    }
    this.forget()
    if (there) return { ref, corner: there.marks.push(px) - 1 }
    const name = nextLine(list === 'edges' ? 'L' : 'F', this[list].map((one) => one.ref))
    this[list].push({ ref: name, marks: [px] })
    return { ref: name, corner: 0 }
  }

  ask(): Promise<void> {
    return this.asks('told', async () => {
      this.told = await api.photoTold(this.marks)
    })
  }

  make(what: 'straight' | 'overlay'): Promise<void> {
    return this.asks(what, async () => {
      const picture = await api.photoPicture(what, { marks: this.marks, picture: await this.smaller() })
      if (this.made) URL.revokeObjectURL(this.made.url)
      this.made = { url: URL.createObjectURL(picture), what }
    })
  }

  private async asks(what: string, does: () => Promise<void>): Promise<void> {
    this.busy = what
    this.trouble = ''
    try {
      await does()
    } catch (problem) {
      const refused = problem instanceof api.Refused && problem.status ? problem.trouble : null
      const named = refused && /^(points|boxes|edges|front)\[(\d+)\]/.exec(refused.field)
      const list = named?.[1] as Kind | undefined
      const sent = list === 'edges' || list === 'front' ? complete(this[list]) : list ? this.marks[list] : []
      const ref = named && sent?.[Number(named[2])]?.ref
      this.trouble = refused ? `${ref || refused.field} ${refused.value && refused.value !== ref ? `(${refused.value}) ` : ''}${refused.says}` : api.inWords(problem)
    }
    this.busy = ''
  }

  /** The photo upright, no larger than a page needs. */
  private async smaller(): Promise<string> {
    for (const [longest, quality] of [[LONGEST, 0.9], [LONGEST, 0.75], [1800, 0.7], [1200, 0.6]] as const) {
      const share = Math.min(1, longest / Math.max(this.size.x, this.size.y))
      const canvas = document.createElement('canvas')
      canvas.width = Math.round(this.size.x * share)
      canvas.height = Math.round(this.size.y * share)
      canvas.getContext('2d')!.drawImage(this.image!, 0, 0, canvas.width, canvas.height)
      const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', quality))
      if (blob && blob.size <= MOST_SENT) return base64(blob)
    }
    throw new Error('The photo cannot be made small enough to be sent.')
  }
}

const photos = new Map<string, WallPhoto>()
/** The photo of a job, as long as the page is open. */
export function photoOf(job: string): WallPhoto {
  const there = photos.get(job) ?? new WallPhoto()
  photos.set(job, there)
  return there
}

function base64(blob: Blob): Promise<string> {
  return new Promise((done, failed) => {
    const reads = new FileReader()
    reads.onload = () => done(String(reads.result).split(',')[1] ?? '')
    reads.onerror = () => failed(new Error('The photo cannot be read.'))
    reads.readAsDataURL(blob)
  })
}
