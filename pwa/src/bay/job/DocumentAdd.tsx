import { useState } from 'preact/hooks'
import { addDocument } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import type { Job } from '../../store/index.ts'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { TakeOut } from '../frame/TakeOut.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { useDraft } from '../frame/useDraft.ts'
import { useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { say } from '../frame/say.ts'

/** A paper or a file that belongs to the job: a machine shop's report, a delivery note. */
export function DocumentAdd({ job }: { job: Job }) {
  const at = useWhere(job)
  const draft = useDraft(`document/${job.id}`, { title: '', remark: '' })
  const [file, setFile] = useState<File | null>(null)
  const { message, attempt, busy } = useSaving()
  const title = draft.value.title.trim()
  const save = async () => {
    if (!file || !title) return
    if (!(await attempt(() => addDocument(at, file, title, draft.value.remark.trim()), say('document.saved', { title })))) return
    setFile(null)
    await draft.done()
  }
  return (
    <Screen
      title={say('document.title', { place: nameOfPlace(job, at.place, at.point) })}
      job={job}
      acts={
        <>
          <BackAct />
          <Act name={busy ? say('common.saving') : say('common.save')} main off={busy || !file || !title} onAct={() => void save()} />
        </>
      }
    >
      <div class="form">
        <label class="file-door own-line">
          <span class="cell-label">{say('document.file')}</span>
          <span class="file-name own-line bold breaks">{file?.name ?? say('document.choose')}</span>
          <input
            type="file"
            class="unseen"
            aria-label={say('document.file')}
            onChange={(event) => {
              const chosen = event.currentTarget.files?.[0] ?? null
              setFile(chosen)
              if (chosen && !draft.value.title) draft.change({ title: chosen.name.replace(/\.\w+$/, '') })
              event.currentTarget.value = ''
            }}
          />
        </label>
        <Field label={say('common.title')} value={draft.value.title} onValue={(t) => draft.change({ title: t })} needed />
        <Field label={say('common.remark')} value={draft.value.remark} onValue={(remark) => draft.change({ remark })} lines={2} />
        <StatusMessage words={message.words} wrong={message.wrong} />
        <TakeOut files={message.files} />
      </div>
    </Screen>
  )
}
