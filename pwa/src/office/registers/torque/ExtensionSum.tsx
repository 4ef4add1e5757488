import { useState } from 'preact/hooks'
import { Choice, Field } from '../../../parts/controls/Field.tsx'
import { Refusal } from '../../../trade/ground/errors.ts'
import { EXTENSION_CAUTIONS, EXTENSION_FORMULA, setText, setValue, type TorqueTool } from '../../../trade/tightening/tools.ts'
import { read, toSi } from '../../../trade/ground/units.ts'
import { say } from '../../frame/say.ts'

const EMPTY = { torque: '', length: '', extension: '' }
type Typed = typeof EMPTY

/** What to set a wrench to with a crow-foot or an extension on its square drive. */
export function ExtensionSum({ tool }: { tool: TorqueTool }) {
  const [typed, setTyped] = useState(EMPTY)
  const [way, setWay] = useState<'line' | 'angle'>('line')
  const { setting, wrong } = workedOut(typed, way === 'line', tool.unit)
  const cell = (name: keyof Typed, label: string) => ({
    label,
    value: typed[name],
    onValue: (value: string) => setTyped((before) => ({ ...before, [name]: value })),
    figures: true,
    keys: 'decimal' as const,
    wrong: wrong[name] ?? '',
  })
  return (
    <section aria-label={say('tools.with_extension')}>
      <h2>{say('tools.with_extension')}</h2>
      <div class="spread-cells in-grid">
        <Field {...cell('torque', say('tools.torque_at_fastener', { unit: tool.unit }))} />
        <Field {...cell('length', say('tools.wrench_length'))} />
        <Field {...cell('extension', say('tools.extension_length'))} />
      </div>
      <Choice
        label={say('tools.extension_direction')}
        options={[
          { value: 'line', words: say('tools.in_line') },
          { value: 'angle', words: say('tools.at_right_angle') },
        ]}
        chosen={[way]}
        onChoose={setWay}
      />
      <p role="status" class="extension-said">
        {setting && (
          <>
            {say('tools.set_wrench_to')} <b class="figure">{setting}</b>
          </>
        )}
      </p>
      <p class="soft small">
        {EXTENSION_FORMULA}. {EXTENSION_CAUTIONS.join(' ')}
      </p>
    </section>
  )
}

/** The value to set in words, and what is wrong with a field; nothing while it is not all typed. */
function workedOut(typed: Typed, inLine: boolean, unit: string): { setting: string; wrong: Partial<Typed> } {
  if (!typed.torque || !typed.length || !typed.extension) return { setting: '', wrong: {} }
  try {
    const amount = (text: string, of: string) => {
      const reading = read(text, of)
      return toSi(reading.amount, reading.unit)
    }
    const value = setValue(amount(typed.torque, unit), amount(typed.length, 'mm'), amount(typed.extension, 'mm'), inLine)
    return { setting: setText(value, unit), wrong: {} }
  } catch (reason) {
    if (!(reason instanceof Refusal)) throw reason
    const field = (Object.keys(typed) as (keyof Typed)[]).find((name) => reason.where === name) ?? 'torque'
    return { setting: '', wrong: { [field]: reason.message } }
  }
}
