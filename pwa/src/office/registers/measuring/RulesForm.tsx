import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import type { Rules } from '../../../trade/measuring/rules.ts'
import { ApiError, post } from '../../frame/api.ts'
import { DoneNotice, FaultNotice } from '../../frame/notices.tsx'
import { say, type SentenceKey } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import { useFaults } from '../../frame/useFaults.ts'
import { faultsAt } from '../form/faults.ts'
import { RuleDrawing } from './RuleDrawing.tsx'
import { RULE_CHOICES, SHOWN_UNITS } from './rule_choices.ts'
import { unitsOf } from './units_offered.ts'

/** The rules, changed by a manager and read by everybody. */
export function RulesForm({ start, onSaved }: { start: Rules; onSaved: () => void }) {
  const [rules, setRules] = useState(start)
  const [fault, setFault] = useState('')
  const [done, setDone] = useState('')
  const { faults, error, checkNow } = useFaults('measuring_rules', rules)
  const put = (changes: Partial<Rules>) => {
    setDone('')
    setRules((before) => ({ ...before, ...changes }))
  }
  const save = async (event: Event) => {
    event.preventDefault()
    const [first] = await checkNow()
    if (first) return setFault(first.message)
    try {
      await post('/api/measuring-rules', { rules })
      setFault('')
      setDone(say('rules.saved'))
      onSaved()
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  const cell: Cell = (field, label) => ({
    label: say(label),
    value: rules[field],
    onValue: (value: string) => put({ [field]: value }),
    wrong: faultsAt(faults, field),
  })
  return (
    <form noValidate onSubmit={save}>
      <Choices chosen={rules.rule} choose={(rule) => put({ rule })} />
      <RuleGroup name="rules.shown_in">
        <p class="soft">{say('rules.shown_in_hint')}</p>
        <div class="rule-cells grid-tops above-4">
          {SHOWN_UNITS.map(({ field, label, kind }) => (
            <Field key={field} {...cell(field, label)} options={[{ value: '', words: say('rules.as_read') }, ...unitsOf(kind)]} />
          ))}
        </div>
      </RuleGroup>
      <OtherRules cell={cell} />
      <FaultNotice>{fault || error}</FaultNotice>
      <DoneNotice>{done}</DoneNotice>
      {isManager.value ? (
        <div class="acts">
          <button class="main-act">{say('common.save')}</button>
        </div>
      ) : (
        <p class="soft">{say('rules.manager_only')}</p>
      )}
    </form>
  )
}

type Cell = (field: keyof Rules, label: SentenceKey) => { label: string; value: string; onValue: (value: string) => void; wrong: string }

/** Compression, temperature and the reason. */
function OtherRules({ cell }: { cell: Cell }) {
  return (
    <>
      <RuleGroup name="rules.compression">
        <div class="rule-cells grid-tops above-4">
          <Field {...cell('compression_share', 'rules.compression_share')} figures keys="decimal" />
          <p>{say('rules.compression_hint')}</p>
        </div>
      </RuleGroup>
      <RuleGroup name="rules.temperature">
        <div class="rule-cells grid-tops above-4">
          <Field {...cell('temperature_half_width', 'rules.temperature_half_width')} figures keys="decimal" />
          <Field {...cell('expansion_half_width', 'rules.expansion_half_width')} figures keys="decimal" />
          <p>{say('rules.temperature_hint')}</p>
        </div>
      </RuleGroup>
      <RuleGroup name="common.note">
        <Field {...cell('note', 'rules.note')} lines={2} />
      </RuleGroup>
    </>
  )
}

function RuleGroup({ name, children }: { name: SentenceKey; children: ComponentChildren }) {
  return (
    <fieldset class="rule-group above-8" disabled={!isManager.value}>
      <legend class="legend-row bold large">{say(name)}</legend>
      {children}
    </fieldset>
  )
}

function Choices({ chosen, choose }: { chosen: Rules['rule']; choose: (rule: Rules['rule']) => void }) {
  return (
    <fieldset class="rule-choices kinds framed" disabled={!isManager.value}>
      <legend class="bold large">{say('rules.question')}</legend>
      {RULE_CHOICES.map(({ code, name, means, price }) => (
        <label key={code} class={`in-grid${chosen === code ? ' is-chosen' : ''}`}>
          <input
            type="radio"
            name="rule"
            aria-labelledby={`rule-${code}`}
            aria-describedby={`means-${code}`}
            checked={chosen === code}
            onChange={() => choose(code)}
          />
          <span class="pack-sort-name bold large" id={`rule-${code}`}>
            {say(name)}
          </span>
          <RuleDrawing rule={code} />
          <span id={`means-${code}`}>{say(means)}</span>
          <span class="soft">{say(price)}</span>
        </label>
      ))}
    </fieldset>
  )
}
