import { Field } from '../../../parts/controls/Field.tsx'
import type { EngineType } from '../../../trade/engine/parts.ts'
import { STATES, type TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { say } from '../../frame/say.ts'
import { joints } from './form.ts'
import { ThreadCells } from './ThreadCells.tsx'
import { stateWords } from './wording.ts'

export interface SheetFieldsProps {
  sheet: TighteningSheet
  put: (changes: Partial<TighteningSheet>) => void
  wrong: (field: string) => string
}

/** Which joint, and with what bolts. */
export function BoltFields({ type, ...shared }: SheetFieldsProps & { type: EngineType }) {
  const { sheet, put, wrong } = shared
  return (
    <>
      <div class="block halves">
        <JointField {...shared} type={type} />
        <Field label={say('common.name')} value={sheet.name} onValue={(name) => put({ name })} needed wrong={wrong('name')} />
        <ThreadCells {...shared} />
        <Field
          label={say('tightening.thread_state')}
          value={sheet.state}
          onValue={(state) => put({ state })}
          options={STATES.map((value) => ({ value, words: stateWords(value) || say('registers.not_given') }))}
          wrong={wrong('state')}
        />
        <ReuseFields {...shared} />
      </div>
      {sheet.bolt === 'stretch' && <p class="caution noted figures-caution">{say('tightening.stretch_caution')}</p>}
    </>
  )
}

/** The joint; the sheet takes its name while it has none of its own. */
function JointField({ type, sheet, put, wrong }: SheetFieldsProps & { type: EngineType }) {
  const choices = joints(type)
  const choiceOf = (joint: string) => choices.find(({ value }) => value === joint)
  const choose = (joint: string) => {
    const ownName = sheet.name !== '' && sheet.name !== choiceOf(sheet.joint)?.name
    put({ joint, name: ownName ? sheet.name : (choiceOf(joint)?.name ?? '') })
  }
  const unknown = choiceOf(sheet.joint) ? [] : [{ value: sheet.joint, words: sheet.joint || say('common.choose') }]
  return (
    <Field
      label={say('tightening.joint')}
      value={sheet.joint}
      onValue={choose}
      options={[...unknown, ...choices]}
      wrong={wrong('joint') || wrong('engine_type')}
    />
  )
}

/** Whether, how often and up to which length the bolts are used again. */
function ReuseFields({ sheet, put, wrong }: SheetFieldsProps) {
  const setBolt = (value: string) => {
    const bolt = value as TighteningSheet['bolt']
    const once = bolt === 'stretch' && !sheet.uses_most && !sheet.length_most
    put({ bolt, uses_most: once ? 1 : sheet.uses_most })
  }
  return (
    <>
      <Field
        label={say('tightening.bolts')}
        value={sheet.bolt}
        onValue={setBolt}
        options={[
          { value: 'reusable', words: say('tightening.reusable') },
          { value: 'stretch', words: say('tightening.stretch') },
        ]}
      />
      <Field
        label={say('tightening.most_tightenings')}
        value={String(sheet.uses_most)}
        // What is no whole number is passed on as it is, so that the check can name it.
        onValue={(text) => put({ uses_most: /^\d+$/.test(text.trim()) ? Number(text) : (text as unknown as number) })}
        figures
        keys="numeric"
        hint={sheet.bolt === 'stretch' ? say('tightening.most_tightenings_stretch_hint') : say('tightening.most_tightenings_hint')}
        wrong={wrong('uses_most')}
      />
      <Field
        label={say('tightening.greatest_length')}
        value={sheet.length_most}
        onValue={(length_most) => put({ length_most })}
        figures
        keys="decimal"
        hint={say('tightening.greatest_length_hint')}
        wrong={wrong('length_most')}
      />
    </>
  )
}
