import { note } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import type { Job } from '../../store/index.ts'
import { Act, BackAct, Screen, Told } from '../frame/Frame.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { useDraft } from '../frame/useDraft.ts'
import { useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'

/** A typed note at the chosen place. */
export function Note({ job }: { job: Job }) {
  const at = useWhere(job)
  const draft = useDraft(`note/${job.id}`, { text: '' })
  const { told, busy, keep } = useSaving()
  const save = async () => {
    const text = draft.value.text.trim()
    if (text && (await keep(() => note(at, text), 'Saved.'))) await draft.done()
  }
  return (
    <Screen
      title={`Note, ${nameOfPlace(job, at.place, at.point)}`}
      job={job}
      acts={
        <>
          <BackAct />
          <Act name={busy ? 'Saving' : 'Keep the note'} main off={busy || !draft.value.text.trim()} onAct={() => void save()} />
        </>
      }
    >
      <Field label="Note" value={draft.value.text} onValue={(text) => draft.change({ text })} lines={7} autoFocus />
      <Told words={told.words} wrong={told.wrong} />
    </Screen>
  )
}
