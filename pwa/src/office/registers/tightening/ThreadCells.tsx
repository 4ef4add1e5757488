import { Field } from '../../../parts/controls/Field.tsx'
import { CLASSES, METRIC, UNIFIED } from '../../../trade/tightening/threads.ts'
import type { TighteningSheet } from '../../../trade/tightening/sheets.ts'

const SIZES = [...METRIC.keys(), ...[...UNIFIED.values()].flatMap(({ size, coarse, fine }) => [`${size}-${coarse} UNC`, `${size}-${fine} UNF`])]

interface Props {
  sheet: TighteningSheet
  put: (news: Partial<TighteningSheet>) => void
  wrong: (field: string) => string
}

/** Thread and property class, and the friction that the estimate of preload goes by. */
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
  return (
    <>
      <Field {...thread('size', 'Thread')} needed hint="M10, or 7/16-20 UNF with an empty pitch." suggestions={SIZES} />
      <Field {...thread('pitch', 'Pitch, mm')} keys="decimal" hint="Empty: the coarse one." suggestions={METRIC.get(sheet.thread.size.trim())?.pitches ?? []} />
      <Field {...thread('class', 'Property class')} suggestions={CLASSES.map(({ code }) => code)} hint="As stamped on the head: 10.9. Empty: unknown." />
      <Field {...friction('k', 'Torque coefficient K')} hint="For the estimate of preload only. Empty: as usual for the state of the thread." />
      <Field {...friction('thread', 'Friction in the thread')} hint="If known, with the next." />
      <Field {...friction('head', 'Friction under the head')} />
    </>
  )
}
