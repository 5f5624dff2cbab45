import { expect, test } from 'vitest'
import { length, value, withUnit, words } from './show'

test.each([
  [1480, '1480'],
  [12.54, '12.5'],
  [-0.04, '0'],
  [1999.96, '2000'],
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
