import { FaultNotice } from '../../frame/notices.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useGet } from '../../frame/useGet.ts'
import { say } from '../../frame/say.ts'
import { dayAndClock, nameOf } from '../../frame/words.ts'
import type { Rules } from '../../../trade/measuring/rules.ts'
import type { RulesShown } from './shapes.ts'
import { RulesForm } from './RulesForm.tsx'
import { RULE_CHOICES } from './rule_choices.ts'
import './rules.css'

/** How the workshop judges what it measures, each rule with what it means. */
export function RulesPage() {
  const { data, error, reload } = useGet<RulesShown>('/api/measuring-rules')
  return (
    <section class="page rules-page" aria-labelledby="rules-title">
      <PageHead id="rules-title" title={say('rules.title')} />
      <p class="page-words">{say('rules.intro')}</p>
      <FaultNotice>{error?.message}</FaultNotice>
      {data && <RulesForm key={data.history.length} start={data.rules} onSaved={reload} />}
      {data && data.history.length > 0 && (
        <section class="issued headed" aria-label={say('common.history')}>
          <h2>{say('common.history')}</h2>
          <ol class="visits">
            {data.history.map(({ position, received, author, rules }) => (
              <li key={position}>
                {say('registers.when_and_who', { when: dayAndClock(received), who: nameOf(author) })}: {inShort(rules)}
                {rules.note && <span class="soft"> {rules.note}</span>}
              </li>
            ))}
          </ol>
        </section>
      )}
    </section>
  )
}

function inShort({ rule, compression_share }: Rules): string {
  const choice = RULE_CHOICES.find(({ code }) => code === rule)
  return say('rules.in_short', { rule: choice ? say(choice.name) : rule, share: compression_share })
}
