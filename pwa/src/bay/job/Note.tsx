import { note } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import type { Job } from '../../store/index.ts'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { useDraft } from '../frame/useDraft.ts'
import { useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { say } from '../frame/say.ts'

/** A typed note at the chosen place. */
export function Note({ job }: { job: Job }) {
  const at = useWhere(job)
  const draft = useDraft(`note/${job.id}`, { text: '' })
  const { message, busy, attempt } = useSaving()
  const save = async () => {
    const text = draft.value.text.trim()
    if (text && (await attempt(() => note(at, text), say('common.saved')))) await draft.done()
  }
  return (
    <Screen
      title={say('note.title', { place: nameOfPlace(job, at.place, at.point) })}
      job={job}
      acts={
        <>
          <BackAct />
          <Act name={busy ? say('common.saving') : say('common.save')} main off={busy || !draft.value.text.trim()} onAct={() => void save()} />
        </>
      }
    >
      <Field label={say('common.note')} value={draft.value.text} onValue={(text) => draft.change({ text })} lines={7} autoFocus />
      <StatusMessage words={message.words} wrong={message.wrong} />
    </Screen>
  )
}
