// @vitest-environment node
import { readFileSync } from 'node:fs'
import openapi, { astToString } from 'openapi-typescript'
import { expect, test } from 'vitest'

test('the types are those of the engine\'s own description (else: npm run api)', async () => {
  const described = JSON.parse(readFileSync(new URL('../openapi.json', import.meta.url), 'utf-8'))
  const made = astToString(await openapi(described, { defaultNonNullable: false }))
  expect(readFileSync(new URL('./schema.d.ts', import.meta.url), 'utf-8')).toContain(made)
})
