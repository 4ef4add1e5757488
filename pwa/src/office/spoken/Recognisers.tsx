import { PageHead } from '../frame/PageHead.tsx'
import { FaultNotice } from '../frame/notices.tsx'
import { ToSpoken } from './OwnWords.tsx'
import { useTally } from './useTally.ts'
import { recogniserWords } from './words.ts'
import { say } from '../frame/say.ts'

/** Which recognisers work on this server, and why the others do not. */
export function Recognisers() {
  const { tally, trouble } = useTally()
  const all = tally?.recognisers ?? []
  return (
    <section class="page narrow-page" aria-labelledby="recognisers-title">
      <PageHead
        id="recognisers-title"
        title={say('spoken.recognisers')}
        acts={<ToSpoken />}
      />
      <p class="page-words">
        {say('spoken.recognisers_help')}
      </p>
      <FaultNotice>{trouble}</FaultNotice>
      <ul class="recognisers ruled thick-over">
        {all.map(({ id, usable, why, next }) => (
          <li key={id} class={`in-grid${usable ? ' is-usable' : ''}`}>
            <p>
              <b>{recogniserWords(id)}</b> <span class="figure soft">{id}</span>
            </p>
            <p class="recogniser-state to-right">{usable ? say('spoken.in_use') : say('spoken.not_available')}</p>
            {(why || next) && <p class="recogniser-why soft">{[why, next].filter(Boolean).join(' ')}</p>}
          </li>
        ))}
      </ul>
      <p class="page-words">
        {say('spoken.same_on_server')} <code>witnessmark speech</code>. {say('spoken.better_model')}
      </p>
    </section>
  )
}
