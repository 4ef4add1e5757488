import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { UNITS } from '../../../trade/ground/units.ts'
import { post, ApiError } from '../../frame/api.ts'
import { PageHead } from '../../frame/PageHead.tsx'
import { Done, Fault as Say } from '../../frame/Say.tsx'
import { useAsk } from '../../frame/useAsk.ts'
import { useFaults } from '../../frame/useFaults.ts'
import { isManager } from '../../frame/session.ts'
import { dayAndClock, faultsAt, nameOf } from '../../frame/words.ts'
import type { Rules } from '../../../trade/measuring/rules.ts'
import type { RulesShown } from './shapes.ts'
import { RuleDrawing } from './RuleDrawing.tsx'

export const RULE_CHOICES: { code: Rules['rule']; name: string; means: string; price: string }[] = [
  {
    code: 'guarded',
    name: 'Guarded by the whole uncertainty',
    means:
      'Within limits only if the figure and its whole expanded uncertainty U lie inside; outside only if they lie outside. In between nothing is proven (ISO 14253-1; ILAC-G8 with a guard band of U).',
    price: 'Hardest to pass. What passes will stand up before anyone.',
  },
  {
    code: 'guarded_95',
    name: 'Guarded, 95 % sure',
    means:
      'As above with a smaller guard band, 1.65 standard uncertainties: a pass is wrong in at most one case of twenty (the default of ISO 14253-1:2017).',
    price: 'Fewer figures stay unproven.',
  },
  {
    code: 'simple',
    name: 'Simple acceptance',
    means:
      'The figure is held against the limit as it stands, its uncertainty left out. A figure right at the limit is then as likely wrong as right; every verdict says that it was judged so.',
    price: 'Always gives an answer. It proves the least.',
  },
]

const SHOWN: { field: keyof Rules; label: string; kind: string }[] = [
  { field: 'shown_length', label: 'Lengths', kind: 'length' },
  { field: 'shown_pressure', label: 'Pressures', kind: 'pressure' },
  { field: 'shown_volume', label: 'Volumes', kind: 'volume' },
  { field: 'shown_torque', label: 'Torques', kind: 'torque' },
  { field: 'shown_temperature', label: 'Temperatures', kind: 'temperature' },
]

/** How the workshop judges what it measures, each rule with what it means. */
export function RulesPage() {
  const { told, trouble, again } = useAsk<RulesShown>('/api/measuring-rules')
  return (
    <section class="page rules-page" aria-labelledby="rules-title">
      <PageHead id="rules-title" title="Measuring rules" />
      <p class="page-words">
        They hold for every figure from now on. What was judged before keeps the rules of its day beside what counts now.
      </p>
      <Say>{trouble?.message ?? ''}</Say>
      {told && <RulesForm key={told.history.length} rules={told.rules} saved={again} />}
      {told && told.history.length > 0 && (
        <section class="issued" aria-label="History">
          <h2>Set</h2>
          <ol class="visits">
            {told.history.map((one) => (
              <li key={one.position}>
                {dayAndClock(one.received)}, {nameOf(one.author)}:{' '}
                {RULE_CHOICES.find(({ code }) => code === one.rules.rule)?.name.toLowerCase()}, compression share{' '}
                <span class="figure">{one.rules.compression_share} %</span>
                {one.rules.note && <span class="soft"> {one.rules.note}</span>}
              </li>
            ))}
          </ol>
        </section>
      )}
    </section>
  )
}

function RulesForm({ rules: start, saved }: { rules: Rules; saved: () => void }) {
  const [rules, setRules] = useState(start)
  const [fault, setFault] = useState('')
  const [done, setDone] = useState('')
  const put = (news: Partial<Rules>) => {
    setDone('')
    setRules((was) => ({ ...was, ...news }))
  }
  const { faults, trouble, now } = useFaults('measuring_rules', rules)
  const keep = async (event: Event) => {
    event.preventDefault()
    const [first] = await now()
    if (first) return setFault(first.message)
    try {
      await post('/api/measuring-rules', { rules })
      setFault('')
      setDone('Set. The phones have it when they next reach the server.')
      saved()
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  const locked = !isManager.value
  const cell = (field: keyof Rules, label: string) => ({
    label,
    value: rules[field],
    onValue: (value: string) => put({ [field]: value }),
    wrong: faultsAt(faults, field),
  })
  return (
    <form noValidate onSubmit={keep}>
      <fieldset class="rule-choices" disabled={locked}>
        <legend>When is a figure within limits?</legend>
        {RULE_CHOICES.map((one) => (
          <label key={one.code} class={rules.rule === one.code ? 'is-chosen' : ''}>
            <input
              type="radio"
              name="rule"
              aria-labelledby={`rule-${one.code}`}
              aria-describedby={`means-${one.code}`}
              checked={rules.rule === one.code}
              onChange={() => put({ rule: one.code })}
            />
            <span class="pack-sort-name" id={`rule-${one.code}`}>
              {one.name}
            </span>
            <RuleDrawing rule={one.code} />
            <span id={`means-${one.code}`}>{one.means}</span>
            <span class="soft">{one.price}</span>
          </label>
        ))}
      </fieldset>
      <fieldset class="rule-group" disabled={locked}>
        <legend>Shown in</legend>
        <p class="soft">What was typed stays as it was typed. Only what is worked out is shown in these units.</p>
        <div class="rule-cells">
          {SHOWN.map(({ field, label, kind }) => (
            <Field
              key={field}
              {...cell(field, label)}
              options={[
                { value: '', words: 'as they were read' },
                ...Object.entries(UNITS)
                  .filter(([, unit]) => unit.kind === kind)
                  .map(([value, unit]) => ({ value, words: `${value}, ${unit.words}` })),
              ]}
            />
          ))}
        </div>
      </fieldset>
      <fieldset class="rule-group" disabled={locked}>
        <legend>Compression</legend>
        <div class="rule-cells">
          <Field {...cell('compression_share', 'Least share of the highest, %')} figures keys="decimal" />
          <p>
            A cylinder under this share of the highest is named. Two schools, both common practice: 90 % and 75 %. Neither is a maker's
            limit, so it never makes a verdict.
          </p>
        </div>
      </fieldset>
      <fieldset class="rule-group" disabled={locked}>
        <legend>Temperature</legend>
        <div class="rule-cells">
          <Field {...cell('temperature_half_width', 'Temperatures are known to within, K')} figures keys="decimal" />
          <Field {...cell('expansion_half_width', 'Expansion of the material is known to within, %')} figures keys="decimal" />
          <p>
            Sizes refer to 20 °C (ISO 1). Where the temperature of the part and its material were taken down, the size is brought to
            20 °C, and these two say how well that can be done.
          </p>
        </div>
      </fieldset>
      <fieldset class="rule-group" disabled={locked}>
        <legend>Note</legend>
        <Field {...cell('note', 'Why it is so, for later readers')} lines={2} />
      </fieldset>
      <Say>{fault || trouble}</Say>
      <Done>{done}</Done>
      {isManager.value ? (
        <div class="acts">
          <button class="main-act">Set these rules</button>
        </div>
      ) : (
        <p class="soft">A manager sets the rules.</p>
      )}
    </form>
  )
}
