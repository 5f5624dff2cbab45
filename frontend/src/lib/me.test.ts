import { afterEach, expect, test, vi } from 'vitest'
import * as api from './api'
import { me } from './me.svelte'

const OLGA = { mode: 'hosted', name: 'Olga', role: 'owner', csrf: 'old', first: '' } as const
afterEach(() => vi.unstubAllGlobals())

test('what was asked when the session had ended is done once the same person is signed in again', async () => {
  const sent: (string | undefined)[] = []
  vi.stubGlobal('fetch', (_: string, init: RequestInit) => {
    const word = (init.headers as Record<string, string>)['x-csrf-token']
    sent.push(word)
    return Promise.resolve(word === 'fresh' ? new Response('{}') : new Response('{"error": {"says": "sign in first"}}', { status: 401 }))
  })
  me.take(OLGA)
  const asked = api.reply('Oak, then', 1)
  await vi.waitFor(() => expect(me.ended).toBe(true))
  me.take({ ...OLGA, csrf: 'fresh' })
  await asked
  expect([sent, me.ended]).toEqual([['old', 'fresh'], false])
})

test('nothing waits where nobody was signed in', async () => {
  vi.stubGlobal('fetch', () => Promise.resolve(new Response('{"error": {"says": "sign in first"}}', { status: 401 })))
  me.take({ ...OLGA, role: null, name: '' })
  await expect(api.reply('Oak, then', 1)).rejects.toThrow('sign in first')
  expect(me.ended).toBe(false)
})
