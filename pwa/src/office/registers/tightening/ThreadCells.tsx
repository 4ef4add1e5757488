import { Field } from '../../../parts/controls/Field.tsx'
import { CLASSES, METRIC, UNIFIED } from '../../../trade/tightening/threads.ts'
import type { TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { say } from '../../frame/say.ts'

const SIZES = [...METRIC.keys(), ...[...UNIFIED.values()].flatMap(({ size, coarse, fine }) => [`${size}-${coarse} UNC`, `${size}-${fine} UNF`])]

interface Props {
  sheet: TighteningSheet
  put: (changes: Partial<TighteningSheet>) => void
  wrong: (field: string) => string
}

/** Thread and property class, and the friction that the estimate of preload uses. */
export function ThreadCells({ sheet, put, wrong }: Props) {
  const thread = (field: keyof TighteningSheet['thread'], label: string) => ({
    label,
    value: sheet.thread[field],
    onValue: (value: string) => put({ thread: { ...sheet.thread, [field]: value } }),
    wrong: wrong(`thread.${field}`),
    figures: true,
  })
  const friction = (field: keyof TighteningSheet['friction'], label: string) => ({
    label,
    value: sheet.friction[field],
    onValue: (value: string) => put({ friction: { ...sheet.friction, [field]: value } }),
    wrong: wrong(`friction.${field}`),
    figures: true,
    keys: 'decimal' as const,
  })
  const pitches = METRIC.get(sheet.thread.size.trim())?.pitches ?? []
  return (
    <>
      <Field {...thread('size', say('tightening.thread'))} needed hint={say('tightening.thread_hint')} suggestions={SIZES} />
      <Field {...thread('pitch', say('tightening.pitch'))} keys="decimal" hint={say('tightening.pitch_hint')} suggestions={pitches} />
      <Field
        {...thread('class', say('tightening.property_class'))}
        suggestions={CLASSES.map(({ code }) => code)}
        hint={say('tightening.property_class_hint')}
      />
      <Field {...friction('k', say('tightening.torque_coefficient'))} hint={say('tightening.torque_coefficient_hint')} />
      <Field {...friction('thread', say('tightening.thread_friction'))} hint={say('tightening.thread_friction_hint')} />
      <Field {...friction('head', say('tightening.head_friction'))} />
    </>
  )
}
