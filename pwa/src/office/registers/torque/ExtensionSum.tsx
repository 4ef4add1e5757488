import { useState } from 'preact/hooks'
import { Choice, Field } from '../../../parts/controls/Field.tsx'
import { Refusal } from '../../../trade/ground/errors.ts'
import { EXTENSION_CAUTIONS, EXTENSION_FORMULA, setText, setValue, type TorqueTool } from '../../../trade/tightening/tools.ts'
import { read, toSi } from '../../../trade/ground/units.ts'

/** What to set a wrench to when a crow-foot or an extension carries on from its square drive. */
export function ExtensionSum({ tool }: { tool: TorqueTool }) {
  const [typed, setTyped] = useState({ torque: '', length: '', extension: '' })
  const [way, setWay] = useState<'line' | 'angle'>('line')
  const { said, wrong } = worked(typed, way === 'line', tool.unit)
  const cell = (name: keyof typeof typed, label: string) => ({
    label,
    value: typed[name],
    onValue: (value: string) => setTyped((was) => ({ ...was, [name]: value })),
    figures: true,
    keys: 'decimal' as const,
    wrong: wrong[name] ?? '',
  })
  return (
    <section aria-label="With an extension">
      <h2>With a crow-foot or an extension</h2>
      <div class="spread-cells">
        <Field {...cell('torque', `Torque at the fastener, ${tool.unit}`)} />
        <Field {...cell('length', 'Wrench, square to grip, mm')} />
        <Field {...cell('extension', 'Extension, square to fastener, mm')} />
      </div>
      <Choice
        label="It stands"
        options={[
          { value: 'line', words: 'in line' },
          { value: 'angle', words: 'at a right angle' },
        ]}
        chosen={[way]}
        onChoose={setWay}
      />
      <p role="status" class="extension-said">
        {said && (
          <>
            Set the wrench to <b class="figure">{said}</b>.
          </>
        )}
      </p>
      <p class="soft small">
        {EXTENSION_FORMULA}. {EXTENSION_CAUTIONS.join(' ')}
      </p>
    </section>
  )
}

/** The set value in words, and what is wrong with a field; nothing while it is not all typed. */
function worked(typed: { torque: string; length: string; extension: string }, inLine: boolean, unit: string) {
  const wrong: Partial<Record<keyof typeof typed, string>> = {}
  if (!typed.torque || !typed.length || !typed.extension) return { said: '', wrong }
  try {
    const amount = (text: string, of: string) => {
      const reading = read(text, of)
      return toSi(reading.amount, reading.unit)
    }
    const set = setValue(amount(typed.torque, unit), amount(typed.length, 'mm'), amount(typed.extension, 'mm'), inLine)
    return { said: setText(set, unit), wrong }
  } catch (reason) {
    if (!(reason instanceof Refusal)) throw reason
    const at = (Object.keys(typed) as (keyof typeof typed)[]).find((name) => reason.where === name) ?? 'torque'
    return { said: '', wrong: { [at]: reason.message } }
  }
}
