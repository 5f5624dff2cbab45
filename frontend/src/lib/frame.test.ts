import { expect, test } from 'vitest'
import { frameOf } from './frame'
import { placeOf } from './place.svelte'
import { when } from './when'

test('a drawing says which part of the wall it shows', () => {
  expect(frameOf('<svg viewBox="-80 -2769.55 4360.525 2789.55" width="1mm">')).toEqual({ x: -80, y: -2769.55, width: 4360.525, height: 2789.55 })
  expect(frameOf('<svg>')).toBeNull()
})

test('the address says where one is', () => {
  const id = '0123456789abcdef0123456789abcdef'
  expect(placeOf('/', '')).toEqual({ page: 'home', job: '', room: '' })
  expect(placeOf(`/job/${id}`, '#/survey')).toEqual({ page: 'job', job: id, room: 'survey' })
  expect(placeOf('/link', '#some-token')).toEqual({ page: 'link', job: '', room: '' })
  expect(placeOf('/job/..%2fetc', '').page).toBe('home')
})

test('a moment is said as people say it', () => {
  const now = new Date(2026, 2, 10, 15, 0).getTime()
  expect(when(now / 1000 - 20, now)).toBe('just now')
  expect(when(now / 1000 - 20 * 60, now)).toBe('20 min ago')
  expect(when(now / 1000 - 3 * 86400, now)).toMatch(/2026/)
})
