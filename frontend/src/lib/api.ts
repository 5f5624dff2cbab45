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
export type Asked = Schemas['Asked']
export type Watch = Schemas['Watch']
export type Change = Omit<Schemas['Change'], 'position' | 'sure'> & { sure?: boolean }

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

async function call<T>(path: string, body?: unknown): Promise<T> {
  const init: RequestInit =
    body === undefined ? {} : { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }
  let answer: Response
  try {
    answer = await fetch(`/api/${path}`, init)
  } catch {
    throw new Refused(0, { field: 'server', value: '', says: 'The program does not answer. Is it still running?', problems: [] })
  }
  const read: unknown = await answer.json().catch(() => null)
  if (answer.ok && read) return read as T
  const refused = read as { error?: Trouble; state?: State } | null
  const unknown = { field: 'answer', value: '', says: `The program answered ${answer.status}.`, problems: [] }
  throw new Refused(answer.status, refused?.error ?? unknown, refused?.state ?? null)
}

export const getState = (scale: number) => call<State>(`state?scale=${scale}`)
export const watch = () => call<Watch>('watch')
export const getWhy = (name: string) => call<Schemas['Whys']>(`why?name=${encodeURIComponent(name)}`)
export const getSheets = () => call<Schemas['Sheets']>('sheets')
export const getIssue = () => call<Issue>('issue')
export const startIssue = (position: number) => call<Issue>('issue', { position })
export const edit = (change: Change, position: number, scale: number) =>
  call<State | Asked>(`edit?scale=${scale}`, { ...change, position })
export const tryOut = (change: Change, position: number, scale: number) =>
  call<State>(`try?scale=${scale}`, { ...change, position })
export const step = (which: 'undo' | 'redo', position: number, scale: number) =>
  call<State>(`${which}?scale=${scale}`, { position })
