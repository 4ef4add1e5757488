import { Field } from '../../../parts/controls/Field.tsx'
import { say } from '../../frame/say.ts'
import { Tick } from '../form/Tick.tsx'
import type { SheetFieldsProps } from './BoltFields.tsx'

/** Who witnesses it, where it is from, and whether it is withdrawn. `changed`: the sheet is already in force. */
export function SourceFields({ sheet, put, wrong, changed }: SheetFieldsProps & { changed: boolean }) {
  return (
    <>
      <Tick label={say('tightening.witness_tick')} checked={sheet.two_people} onChange={(two_people) => put({ two_people })} />
      <Field
        label={say('common.source')}
        value={sheet.source}
        onValue={(source) => put({ source })}
        needed
        hint={say('tightening.source_hint')}
        wrong={wrong('source')}
      />
      <Field label={say('common.note')} value={sheet.note} onValue={(note) => put({ note })} lines={2} wrong={wrong('note')} />
      {changed && <Tick label={say('tightening.withdrawn_tick')} checked={sheet.withdrawn} onChange={(withdrawn) => put({ withdrawn })} />}
    </>
  )
}
