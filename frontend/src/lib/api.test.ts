import { expect, test } from 'vitest'
import { Refused, troubleIn, wrongIn } from './api'

const problem = (field: string, value: string, says: string) => ({ field, value, says })

test('each thing that is wrong with a file is told with its place', () => {
  const problems = [problem('survey.room', '', 'is missing'), problem('survey.widht', '3', 'there is no such key here')]
  expect(wrongIn(new Refused(422, { ...problems[0]!, problems }), 'wall.toml')).toEqual([
    'wall.toml, survey.room: is missing', 'wall.toml, survey.widht = 3: there is no such key here',
  ])
  expect(wrongIn(new Refused(413, { ...problem('body', '2100000', 'is larger than 2000 kB'), problems: [] }), 'wall.toml')).toEqual(['wall.toml: is larger than 2000 kB'])
  expect(wrongIn(new Error('The program does not answer.'), 'wall.toml')).toEqual(['The program does not answer.'])
})

test('what had changed meanwhile is read again, whatever comes of that; nothing else is', async () => {
  let read = 0
  const anew = () => Promise.reject(new Error(String((read += 1))))
  const refuse = (status: number) => () => Promise.reject(new Refused(status, { ...problem('revision', '', 'is another by now'), problems: [] }))
  expect(await troubleIn(refuse(409), anew)).toBe('is another by now')
  expect(await troubleIn(refuse(422), anew)).toBe('is another by now')
  expect(read).toBe(1)
})
