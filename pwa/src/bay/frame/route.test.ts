import { describe, expect, it } from 'vitest'
import { codeIn } from '../people/Join.tsx'
import { read, write } from './route.ts'

describe('the address behind the # names a screen and leads back to it', () => {
  it.each([
    ['#/jobs', { screen: 'jobs', job: '', about: '' }],
    ['#/job/0197-a', { screen: 'bench', job: '0197-a', about: '' }],
    ['#/job/0197-a/measure', { screen: 'measure', job: '0197-a', about: '' }],
    ['#/job/0197-a/entry/0198-b', { screen: 'entry', job: '0197-a', about: '0198-b' }],
    ['#/phone', { screen: 'phone', job: '', about: '' }],
  ])('%s', (hash, route) => {
    expect(read(hash)).toEqual(route)
    expect(write(route)).toBe(hash)
  })

  it('an empty address leads to the jobs', () => expect(read('').screen).toBe('jobs'))
})

it.each([
  ['3RC2-NMZR', '3RC2-NMZR'],
  [' 3RC2-NMZR ', '3RC2-NMZR'],
  ['https://workshop.local:8443/bay/#join=3RC2-NMZR', '3RC2-NMZR'],
])('the code is found in what was scanned or typed: %s', (text, code) => expect(codeIn(text)).toBe(code))
