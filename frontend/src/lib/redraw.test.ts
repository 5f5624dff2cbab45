import { describe, expect, test } from 'vitest'
import { redraw } from './redraw'

const drawn = (units: string, texts = '<text x="1">a &lt; b</text>', head = '<title>T</title>') =>
  `<svg viewBox="0 0 9 9">${head}<g class="wall"><path d="M0 0"/></g><g class="units">${units}</g><g>${texts}</g></svg>`
const shown = (svg: string) => {
  const host = document.createElement('div')
  host.innerHTML = svg
  return host.innerHTML
}

describe('a drawing shown anew', () => {
  const steps = [
    drawn('<path d="M1 1"/><path d="M2 2" data-ref="C1"/>'),
    drawn('<path d="M1 1"/><path d="M2 3" data-ref="C1"/>'),
    drawn('<path d="M1 1"/><path d="M2 3" data-ref="C1"/><circle r="2"/>'),
    drawn('<circle r="2"/>', '<text x="2">c</text><text x="3">d</text>'),
    drawn('', '<text x="2">c</text>'),
    drawn('<path d="M1 1"/>', '<text x="2">c</text>', '<title>T</title><defs><pattern id="p"><path d="M0 1"/></pattern></defs>'),
    drawn('<path d="M1 1"/>'),
  ]

  test('is the same as put there whole, whatever changed', () => {
    for (const from of steps)
      for (const to of steps) {
        const host = document.createElement('div')
        redraw(host, from, '')
        redraw(host, to, from)
        expect(host.innerHTML).toBe(shown(to))
      }
  })

  test('leaves what did not change where it is', () => {
    const host = document.createElement('div')
    redraw(host, steps[0]!, '')
    const [wall, first, second] = [host.querySelector('.wall path'), ...host.querySelectorAll('.units path')]
    redraw(host, steps[1]!, steps[0]!)
    expect(host.querySelector('.wall path')).toBe(wall)
    expect(host.querySelectorAll('.units path')[0]).toBe(first)
    expect(host.querySelectorAll('.units path')[1]).not.toBe(second)
  })
})
