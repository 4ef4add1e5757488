import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { type Answer, checking, PAUSE_MS } from './checking.ts'

const fault = (message: string) => ({ where: 'name', message })

/** Questions with the means to answer each when the test likes. */
function checkedQuestions() {
  const open = new Map<string, { answer: (message: string) => void; fail: () => void }>()
  const heard: Answer[] = []
  const checks = checking(
    (question) =>
      new Promise((resolve, reject) =>
        open.set(question, { answer: (message) => resolve([fault(message)]), fail: () => reject(new Error('The server did not answer.')) }),
      ),
    (answer) => heard.push(answer),
  )
  return { open, heard, checks }
}

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

it('asks at once at the start, then only when the typing pauses', async () => {
  const { open, checks } = checkedQuestions()
  checks.typed('first')
  await vi.advanceTimersByTimeAsync(0)
  expect([...open.keys()]).toEqual(['first'])
  checks.typed('b')
  await vi.advanceTimersByTimeAsync(PAUSE_MS - 1)
  checks.typed('bo')
  await vi.advanceTimersByTimeAsync(PAUSE_MS - 1)
  expect(open.has('b') || open.has('bo')).toBe(false)
  await vi.advanceTimersByTimeAsync(1)
  expect([...open.keys()]).toEqual(['first', 'bo'])
})

it('the answer to an earlier question does not count, whenever it comes', async () => {
  const { open, heard, checks } = checkedQuestions()
  checks.typed('old')
  await vi.advanceTimersByTimeAsync(0)
  checks.typed('new')
  await vi.advanceTimersByTimeAsync(PAUSE_MS)
  open.get('new')!.answer('of the new')
  open.get('old')!.answer('of the old')
  await vi.advanceTimersByTimeAsync(0)
  expect(heard).toEqual([{ question: 'new', faults: [fault('of the new')], error: '' }])
})

it('a server that does not answer is told, and what was found before stays', async () => {
  const { open, heard, checks } = checkedQuestions()
  checks.typed('one')
  await vi.advanceTimersByTimeAsync(0)
  open.get('one')!.answer('short')
  await vi.advanceTimersByTimeAsync(0)
  checks.typed('two')
  const now = checks.now()
  open.get('two')!.fail()
  expect(await now).toEqual([])
  const error = 'What is typed cannot be checked now. The server did not answer.'
  expect(heard.at(-1)).toEqual({ question: 'two', faults: [fault('short')], error })
})
