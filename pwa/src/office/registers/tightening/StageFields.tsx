import { Field } from '../../../parts/controls/Field.tsx'
import type { Method, TighteningStage } from '../../../trade/tightening/stages.ts'
import { say } from '../../frame/say.ts'
import { byMethod, unitsFor } from './form.ts'
import { methodOptions } from './wording.ts'

export interface StageProps {
  number: number
  stage: TighteningStage
  set: (changes: Partial<TighteningStage>) => void
  wrong: (field: string) => string
}

const DECIMAL = { figures: true, keys: 'decimal' as const }

/** Name, method, target and tolerance of a stage. */
export function StageFields({ number, stage, set, wrong }: StageProps) {
  const cell = (field: 'words' | 'target' | 'minus' | 'plus' | 'after', label: string) => ({
    label,
    value: stage[field],
    onValue: (value: string) => set({ [field]: value }),
    wrong: wrong(field),
  })
  const setTarget = (target: string) => {
    if (target === '' && stage.method === 'release') return set({ target, unit: '', minus: '', plus: '' })
    const fits = unitsFor(stage.method).some(({ value }) => value === stage.unit)
    set({ target, unit: fits ? stage.unit : byMethod({ ...stage, target }, stage.method).unit })
  }
  const noUnit = stage.method === 'release' ? [{ value: '', words: say('tightening.no_unit') }] : []
  return (
    <div class="row-line">
      <div class="line-long">
        <Field {...cell('words', say('common.name'))} needed {...(number === 1 && { hint: say('tightening.stage_name_hint') })} />
      </div>
      <div>
        <Field
          label={say('tightening.method')}
          value={stage.method}
          onValue={(method) => set(byMethod(stage, method as Method))}
          options={methodOptions()}
          wrong={wrong('method')}
        />
      </div>
      <div class="line-short">
        <Field {...cell('target', say('tightening.target'))} {...DECIMAL} onValue={setTarget} />
      </div>
      <div class="line-short">
        <Field
          label={say('common.unit')}
          value={stage.unit}
          onValue={(unit) => set({ unit })}
          options={[...noUnit, ...unitsFor(stage.method)]}
          wrong={wrong('unit')}
        />
      </div>
      <div class="line-short">
        <Field {...cell('minus', say('tightening.permitted_below'))} {...DECIMAL} />
      </div>
      <div class="line-short">
        <Field {...cell('plus', say('tightening.permitted_above'))} {...DECIMAL} />
      </div>
      <div class="line-long">
        <Field {...cell('after', say('tightening.beforehand'))} hint={say('tightening.beforehand_hint')} />
      </div>
    </div>
  )
}
