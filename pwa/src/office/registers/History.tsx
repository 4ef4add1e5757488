import type { ComponentChildren } from 'preact'
import { say } from '../frame/say.ts'
import { dayAndClock, nameOf } from '../frame/words.ts'
import type { Revision } from './shapes.ts'

interface Props<Line extends Revision> {
  history: Line[] | undefined
  /** What stood in that description. */
  describe: (line: Line) => ComponentChildren
}

/** Who described something when, the latest first; nothing while there is no history. */
export function History<Line extends Revision>({ history, describe }: Props<Line>) {
  if (!history?.length) return null
  return (
    <section aria-label={say('common.history')}>
      <h2>{say('common.history')}</h2>
      <ol class="visits">
        {history.map((line) => (
          <li key={line.position}>
            {say('registers.when_and_who', { when: dayAndClock(line.received), who: nameOf(line.author) })}
            {describe(line)}
          </li>
        ))}
      </ol>
    </section>
  )
}
