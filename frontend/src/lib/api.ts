// Calls to the engine. Types come from its own description (schema.d.ts, made by `npm run api`).
import type { components } from '../schema'

type Schemas = components['schemas']
export type State = Schemas['State']
export type Mark = Schemas['Mark']
export type Finding = Schemas['FindingOut']
export type Box = Schemas['BoxOut']
export type Unit = Schemas['UnitOut']
export type Why = Schemas['WhyOut']
export type Issue = Schemas['Issue']
export type Sheet = Schemas['SheetOut']
export type Trouble = Schemas['Trouble']
export type Group = Schemas['Group']
export type Stage = Schemas['StageOut']
export type Point = Schemas['PointOut']
export type Look = Schemas['Look']
export type Asked = Schemas['Asked']
export type Watch = Schemas['Watch']
export type Change = Omit<Schemas['Change'], 'position' | 'sure'> & { sure?: boolean }
export type Here = Schemas['Here']
export type JobCard = Schemas['JobCard']
export type Person = Schemas['PersonOut']
export type AuditLine = Schemas['AuditLine']
export type Moment = Schemas['MomentOut']
export type Comparison = Schemas['Comparison']
export type Study = Schemas['StudyOut']
export type Links = Schemas['Links']
export type LinkView = Schemas['LinkView']
export type Check = Schemas['CheckOut']
export type Field = Schemas['FieldOut']
export type Form = Schemas['Form']
export type Action = Schemas['Action']
export type Thing = Schemas['Thing']
export type Move = Schemas['Move']
export type Spot = Schemas['Spot']
export type Things = Schemas['Things']
export type Reading = Schemas['Reading']
export type ReadingFate = Schemas['ReadingOut']
export type Part = NonNullable<Form['part']>

/** The engine refused: what field, what value, what would do. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly trouble: Trouble,
    readonly state: State | null = null,
  ) {
    super(trouble.says)
  }
}

/** What went wrong, in words. */
export const inWords = (problem: unknown) => (problem instanceof Error ? problem.message : String(problem))

/** Each thing that is wrong with a file: where in it, what stands there, and what would do. */
export function wrongIn(problem: unknown, file: string): string[] {
  if (!(problem instanceof Refused) || !problem.status) return [inWords(problem)]
  const { problems, ...first } = problem.trouble
  const all = problems?.length ? problems : [first]
  return all.map(({ field, value, says }) => (field === 'file' || field === 'body' ? `${file}: ${says}` : `${file}, ${field}${value ? ` = ${value}` : ''}: ${says}`))
}

/** Do it; what went wrong, in words, or ''. anew : reads again what had changed meanwhile, where that is what went wrong */
export async function troubleIn(what: () => Promise<unknown>, anew?: () => Promise<unknown>): Promise<string> {
  try {
    await what()
    return ''
  } catch (problem) {
    if (anew && problem instanceof Refused && problem.status === 409) await anew().catch(() => {})
    return inWords(problem)
  }
}

/** Which job the calls are about: '' = the one that is open by itself, else `jobs/ID/`. */
let base = ''
let csrf = ''
let token = ''
export const setJob = (id: string) => (base = id ? `jobs/${id}/` : '')
export const setCsrf = (word: string) => (csrf = word)
export const setToken = (word: string) => (token = word)
/** Lets the person sign in again where the session has ended; true where the same one did, so that what was refused may be done. */
let again: () => Promise<boolean> = () => Promise.resolve(false)
export const whenEnded = (ask: () => Promise<boolean>) => (again = ask)
/** The address of something of this job that the browser itself fetches. */
export const addressOf = (path: string) => `/api/${base}${path}`

async function answer(path: string, init: RequestInit): Promise<Response> {
  const got = await sent(path, init)
  // a word of the person's own, or a link: nobody signs in again for those
  if (got.status !== 401 || token || path === 'sign-in') return got
  return (await again()) ? sent(path, init) : got
}

async function sent(path: string, init: RequestInit): Promise<Response> {
  const headers: Record<string, string> = { ...(init.headers as Record<string, string> | undefined) }
  if (init.method === 'POST' && csrf && !token) headers['x-csrf-token'] = csrf
  if (token) headers['authorization'] = `Bearer ${token}`
  const go = () => fetch(`/api/${path}`, { ...init, headers })
  try {
    // what only looks may be asked again where the line was cut
    return await go().catch((problem: unknown) => (init.method === 'POST' || !navigator.onLine ? Promise.reject(problem) : go()))
  } catch {
    const says = navigator.onLine ? 'The program does not answer. Is it still running?' : 'There is no signal. What is on the page stays; try again where there is.'
    throw new Refused(0, { field: 'server', value: '', says, problems: [] })
  }
}

async function refused(got: Response): Promise<Refused> {
  const read = (await got.json().catch(() => null)) as { error?: Trouble; state?: State } | null
  const unknown = { field: 'answer', value: '', says: `The program answered ${got.status}.`, problems: [] }
  return new Refused(got.status, read?.error ?? unknown, read?.state ?? null)
}

async function ask<T>(path: string, body?: unknown): Promise<T> {
  const init: RequestInit =
    body === undefined ? {} : { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }
  const got = await answer(path, init)
  if (!got.ok) throw await refused(got)
  return (await got.json()) as T
}

async function text(path: string): Promise<string> {
  const got = await answer(path, {})
  if (!got.ok) throw await refused(got)
  return got.text()
}

const call = <T>(path: string, body?: unknown) => ask<T>(base + path, body)
const q = encodeURIComponent

// --- one job
export const getState = (scale: number) => call<State>(`state?scale=${scale}`)
export const watch = () => call<Watch>('watch')
export const getWhy = (name: string) => call<Schemas['Whys']>(`why?name=${q(name)}`)
export const getSheets = () => call<Schemas['Sheets']>('sheets')
export const edit = (change: Change, position: number, scale: number) =>
  call<State | Asked>(`edit?scale=${scale}`, { ...change, position })
export const tryOut = (change: Change, position: number, scale: number) =>
  call<State>(`try?scale=${scale}`, { ...change, position })
export const lookAt = (change: Change, position: number, scale: number) => call<Look>(`look?scale=${scale}`, { ...change, position })
export const getCures = () => call<Schemas['Cures']>('cures')
export const priceOf = (change: Change, position: number) => call<Schemas['Priced']>('price', { ...change, position })
export const step = (which: 'undo' | 'redo', position: number, scale: number) =>
  call<State>(`${which}?scale=${scale}`, { position })
export const getForms = (part: Part | '', of = '') =>
  call<Schemas['Forms']>(`forms?${part ? `part=${part}&` : ''}of=${q(of)}`)
export const getThings = () => call<Things>('things')
export const picture = (path: string) => text(base + path)
export const getMirrored = (month: number, hour: number) => call<{ says: string[] }>(`mirrored?month=${month}&hour=${hour}`)
export const startIssue = (position: number) => call<Issue>('issue', { position })
export const getIssue = () => call<Issue>('issue')

// --- its history, studies, links, readings
export const getHistory = (before?: number, most = 50) => call<Schemas['History']>(`history?most=${most}${before ? `&before=${before}` : ''}`)
export const nameMoment = (number: number, name: string) => call<Moment>(`history/${number}/name`, { name })
export const putBack = (number: number, position: number, scale: number) => call<State>(`history/${number}/return?scale=${scale}`, { position })
export const compare = (first: number, second: number) => call<Comparison>(`compare?first=${first}&second=${second}`)
export const startStudy = (kind: Study['kind'], question: Record<string, string | number>, position: number) =>
  call<Study>('studies', { position, kind, question })
export const getStudies = () => call<Schemas['Studies']>('studies')
export const getStudy = (id: string) => call<Study>(`studies/${id}`)
export const cancelStudy = (id: string) => call<Study>(`studies/${id}/cancel`, {})
export const getAnswer = (id: string) => call<{ answer: Record<string, unknown> }>(`studies/${id}/answer`)
export type Decision = Omit<Schemas['Decide'], 'position'>
export const decide = (accept: boolean, decision: Decision, position: number, scale: number) =>
  call<State>(`change/${accept ? 'accept' : 'refuse'}?scale=${scale}`, { ...decision, position })
export type Found = Schemas['FoundIn']
export type FoundAnswers = Schemas['FoundOut']
export const asFound = (found: Found) => call<FoundAnswers>('asfound', found)
export const takeFound = (found: Found, position: number, scale: number) => call<State>(`asfound/take?scale=${scale}`, { position, found })
export type Marks = Schemas['Marks']
export type PhotoTold = Schemas['PhotoTold']
export const photoHead = (head: string) => call<Schemas['HeadOut']>('photo/head', { head })
export const photoTold = (marks: Marks) => call<PhotoTold>('photo/told', marks)
export async function photoPicture(what: 'straight' | 'overlay', sent: Schemas['PictureIn']): Promise<Blob> {
  const got = await answer(`${base}photo/${what}`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(sent) })
  if (!got.ok) throw await refused(got)
  return got.blob()
}
export const getLinks = () => call<Links>('links')
export const makeLink = (link: Schemas['NewLink']) => call<Schemas['GivenLink']>('links', link)
export const revokeLink = (id: string) => call<unknown>(`links/${id}/revoke`, {})
export const reply = (text: string, position: number) => call<unknown>('comments', { position, text })
export const sendReadings = (readings: Reading[], scale: number) => call<Schemas['ReadingsOut']>(`readings?scale=${scale}`, { readings })

// --- the studio
export const here = () => ask<Here>('here')
export const signIn = (name: string, password: string) => ask<Here>('sign-in', { name, password })
export const signOut = () => ask<unknown>('sign-out', {})
export const changePassword = (old: string, fresh: string) => ask<Here>('password', { old, new: fresh })
export const getPeople = () => ask<Schemas['People']>('people')
export const addPerson = (name: string, password: string, role: Person['role']) => ask<Schemas['People']>('people', { name, password, role })
export const changePerson = (id: string, change: Schemas['PersonChange']) => ask<Schemas['People']>(`people/${id}`, change)
export const getAudit = (before?: number) => ask<Schemas['Audit']>(`audit${before ? `?before=${before}` : ''}`)
export const getJobs = (archived: boolean) => ask<Schemas['Jobs']>(`jobs?archived=${archived}`)
export const newJob = (room: 'living' | 'bedroom' | 'studio', title?: string) => ask<{ id: string }>('jobs', title ? { room, title } : { room })
export const duplicate = (id: string) => ask<{ id: string }>(`jobs/${id}/duplicate`, {})
export const archive = (id: string, archived: boolean) => ask<unknown>(`jobs/${id}/archive`, { archived })
export async function importJob(file: Blob): Promise<{ id: string }> {
  const got = await answer('jobs/import', { method: 'POST', headers: { 'content-type': 'application/toml' }, body: file })
  if (!got.ok) throw await refused(got)
  return (await got.json()) as { id: string }
}

// --- by a link
export const linkView = () => ask<LinkView>('link')
export const linkSheet = (name: string) => text(`link/sheet/${name}.svg`)
export const linkComment = (name: string, said: string) => ask<unknown>('link/comment', { name, text: said })
export const linkApprove = (name: string, revision: string, sha256: string) =>
  ask<Schemas['ApprovalOut']>('link/approve', { name, revision, sha256 })
export const linkTick = (tick: Schemas['TickIn']) => ask<Check>('link/tick', tick)
