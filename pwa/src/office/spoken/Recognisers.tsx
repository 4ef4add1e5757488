import { PageHead } from '../frame/PageHead.tsx'
import { Fault } from '../frame/Say.tsx'
import { address } from '../frame/route.ts'
import { useTally } from './useTally.ts'
import { recogniserWords } from './words.ts'

/** Which recognisers listen on this server, and why the others do not. */
export function Recognisers() {
  const { tally, trouble } = useTally()
  const all = tally?.recognisers ?? []
  return (
    <section class="page narrow-page" aria-labelledby="recognisers-title">
      <PageHead
        id="recognisers-title"
        title="Recognisers"
        acts={
          <a class="act" href={address(['spoken'])}>
            Spoken
          </a>
        }
      />
      <p class="page-words">
        All of them listen on the workshop’s own server; no sound leaves it. What one of them hears is a suggestion with its name on it: it never
        changes a record, and it is never given the value that is expected.
      </p>
      <Fault>{trouble}</Fault>
      <ul class="recognisers">
        {all.map(({ id, usable, why, next }) => (
          <li key={id} class={usable ? 'is-usable' : ''}>
            <p>
              <b>{recogniserWords(id)}</b> <span class="figure soft">{id}</span>
            </p>
            <p class="recogniser-state">{usable ? 'listens' : 'does not listen'}</p>
            {(why || next) && <p class="recogniser-why">{[why, next].filter(Boolean).join(' ')}</p>}
          </li>
        ))}
      </ul>
      <p class="page-words">
        On the server, <code>witnessmark speech</code> says the same. A workshop that has a better model points at its folder in the settings.
      </p>
    </section>
  )
}
