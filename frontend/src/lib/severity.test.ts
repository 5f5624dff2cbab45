import { expect, test } from 'vitest'
import type { Finding } from './api'
import { flagged, mustBeFixed, SEVERITIES, SIGN, WORD } from './severity'

const finding = (severity: Finding['severity'], where: string, x: number): Finding => ({
  rule: 'a.b', severity, where, says: `${where} ${severity}`, measured: 1, limit: 2, unit: 'mm', source: '', certainty: 'published',
  cure: '', edits: [], stage: 'Build', does: '', at: { x, z: 0, width: 10, height: 10 },
})
const place = (f: { at: { x: number } }) => ({ x: f.at.x, y: 0 })

test('each severity has a word and a sign of its own', () => {
  expect(new Set(SEVERITIES.map((s) => SIGN[s])).size).toBe(4)
  expect(new Set(SEVERITIES.map((s) => WORD[s])).size).toBe(4)
  expect(SEVERITIES.filter((severity) => mustBeFixed({ severity }))).toEqual(['danger', 'fix'])
})

test('one flag a thing, with the worst first; notes get none', () => {
  const flags = flagged([finding('fix', 'C1', 0), finding('consider', 'C1', 500), finding('consider', 'T1', 900), finding('note', 'S1', 200)], place)
  expect(flags.map((f) => [f.worst, f.first, f.says.length])).toEqual([['fix', 0, 2], ['consider', 2, 1]])
})

test('flags that would lie over one another become one', () => {
  expect(flagged([finding('fix', 'A', 0), finding('fix', 'B', 10), finding('fix', 'C', 40)], place)).toHaveLength(2)
})

test('what is in a unit is flagged with the unit', () => {
  const flags = flagged([finding('fix', 'T1.1-S1', 0), finding('danger', 'T1', 500), finding('fix', 'T1.2', 900)], place)
  expect(flags.map((f) => f.says.length)).toEqual([3])
})

test('what has no place on the wall has no flag', () => {
  expect(flagged([{ ...finding('danger', 'money', 0), at: null }], place)).toEqual([])
})
