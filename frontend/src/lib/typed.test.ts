import { expect, test } from 'vitest'
import { typed } from './typed'

test('a bare number is mm; what is written another way is left to the engine, and nothing is guessed', () => {
  expect([' 1200 ', '-2', '2.5'].map(typed)).toEqual([1200, -2, 2.5])
  expect(['1.2 m', "13' 9 3/8\"", '1.2.3', '.', '1200 ± 3'].map(typed)).toEqual(['1.2 m', "13' 9 3/8\"", '1.2.3', '.', '1200 ± 3'])
})
