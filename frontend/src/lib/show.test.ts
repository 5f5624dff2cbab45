import { expect, test } from 'vitest'
import { inFeet, length, movedLine, plainly, value, withUnit, words } from './show'

test.each([
  [1480, '1480'],
  [12.54, '12.5'],
  [-0.04, '0'],
  [1999.96, '2000'],
  [2749.6, '2750'],
  [3.2, '3.2'],
])('%d mm reads %s', (mm, text) => {
  expect(length(mm, 'mm')).toBe(text)
})

// One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
test.each([
  [1270, '4\'-2"'],
  [2854.325, '9\'-4 3/8"'],
  [25.4, '1"'],
  [12.7, '0 1/2"'],
  [0, '0"'],
  [-254, '-10"'],
  [304.7, '1\'-0"'],
])('%d mm reads %s in feet and inches', (mm, text) => {
  expect(length(mm, 'ft-in')).toBe(text)
})

test('values carry their unit, lengths in the unit shown', () => {
  expect(withUnit(1270, 'mm')).toBe('1270 mm')
  expect(value(50.8, 'mm', 'ft-in')).toBe('2"')
  expect(value(27.5, 'deg', 'mm')).toBe('27.5°')
  expect(value(0.123456, 'kg', 'mm')).toBe('0.123 kg')
  expect(value('typical', '', 'mm')).toBe('typical')
  expect(words('twin_socket')).toBe('twin socket')
})

test('the lengths of a sentence are told once more in feet, those that stand together too; other numbers are not', () => {
  // 1882 mm / 25.4 = 74.09 in = 6'-2 1/8"; 8 mm = 5/16 in, to the nearest eighth 0 3/8; 203 mm = 8 in; 50 kg is no length
  expect(inFeet('C1 stands on AC1 (1882 × 8 mm), 50 kg', 'hang it at 203 mm', 'set it to 203 mm')).toBe(
    `1882 × 8 mm = 6'-2 1/8" × 0 3/8"; 203 mm = 8"`,
  )
  expect(inFeet('12 W warm it by 6.7 K')).toBe('')
})

test('measured and limit are converted where they are in mm, a range too; below nothing is said in words', () => {
  expect(value('914 to 1016', 'mm', 'ft-in')).toBe(`3'-0" to 3'-4"`)
  expect(value('914 to 1016', 'mm', 'mm')).toBe('914 to 1016 mm')
  expect(value(-909, 'mm', 'mm')).toBe('909 mm below 0')
})

test('what moved is said with where from and where to; outlets only by name', () => {
  const unit = { kind: 'unit', ref: 'C1', says: 'C1 underside', from: 203, to: 300, unit: 'mm' }
  const bays = { kind: 'unit', ref: 'C1', says: 'C1 bays', from: 4, to: 3, unit: '' }
  const outlet = (ref: string, name: string) => ({ kind: 'outlet', ref, says: `${ref} ${name}`, from: 1, to: 2, unit: 'mm' })
  expect(movedLine([unit, bays, outlet('P1', 'x'), outlet('P1', 'z'), outlet('D1', 'z')], 'mm')).toBe(
    'C1 underside 203 → 300, C1 bays 4 → 3, outlets P1 D1',
  )
  expect(movedLine([unit], 'ft-in')).toBe(`C1 underside 8" → 11 3/4"`)
  expect(movedLine([], 'mm')).toBe('')
})

test('a whole thing is told without the marks of its writing', () => {
  expect(plainly("[{'front': 'open', 'drawers': 1, 'loose_shelf': True}]")).toBe('front: open, drawers: 1, loose shelf: yes')
  expect(plainly('2.3 m')).toBe('2.3 m')
  expect(plainly('ref T1, kind tower, finish sprayed_neutral; ref T2, kind tower')).toBe('T1, kind tower, finish sprayed neutral; T2, kind tower')
  expect(plainly('behind_panel')).toBe('behind panel')
})
