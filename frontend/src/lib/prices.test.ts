import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { Finding } from './api'
import { keyOf, Prices } from './prices.svelte'

const asked: unknown[] = []
const finding = (edit: string) => ({ edits: edit ? [{ edit, with: {} }] : [] }) as unknown as Finding
beforeEach(() => {
  vi.useFakeTimers()
  asked.length = 0
  vi.stubGlobal('fetch', async (_: string, init: RequestInit) => {
    const body = JSON.parse(init.body as string)
    asked.push(body.also[0].edit)
    return new Response(JSON.stringify({ difference: 1, shown: `+ ${body.also[0].edit}` }))
  })
})
afterEach(() => {
  vi.unstubAllGlobals()
  vi.useRealTimers()
})

test('each cure is priced once, one after the other, when it is quiet', async () => {
  const prices = new Prices()
  prices.ask([finding('a'), finding(''), finding('b'), finding('a')], 3, () => false)
  await vi.advanceTimersByTimeAsync(900)
  expect(asked).toEqual([])
  await vi.advanceTimersByTimeAsync(500)
  expect(asked).toEqual(['a', 'b'])
  expect(prices.shown[keyOf(finding('b'))]).toBe('+ b')
})

test('nothing is asked while something is done, nor for a wall that is left', async () => {
  const prices = new Prices()
  let busy = true
  prices.ask([finding('a')], 3, () => busy)
  await vi.advanceTimersByTimeAsync(5000)
  expect(asked).toEqual([])
  prices.ask([finding('b')], 4, () => busy)
  busy = false
  await vi.advanceTimersByTimeAsync(5000)
  expect(asked).toEqual(['b'])
  expect(prices.shown).toEqual({ [keyOf(finding('b'))]: '+ b' })
})
