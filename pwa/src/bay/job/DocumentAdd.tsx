import { useState } from 'preact/hooks'
import { addDocument } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import type { Job } from '../../store/index.ts'
import { Act, BackAct, Screen, Told } from '../frame/Frame.tsx'
import { TakeOut } from '../frame/TakeOut.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { useDraft } from '../frame/useDraft.ts'
import { useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'

/** A paper or a file that belongs to the job: a machine shop's sheet, a delivery note. */
export function DocumentAdd({ job }: { job: Job }) {
  const at = useWhere(job)
  const draft = useDraft(`document/${job.id}`, { title: '', remark: '' })
  const [file, setFile] = useState<File | null>(null)
  const { told, keep, busy } = useSaving()
  const title = draft.value.title.trim()
  const save = async () => {
    if (!file || !title) return
    if (!(await keep(() => addDocument(at, file, title, draft.value.remark.trim()), `Saved: ${title}.`))) return
    setFile(null)
    await draft.done()
  }
  return (
    <Screen
      title={`Document, ${nameOfPlace(job, at.place, at.point)}`}
      job={job}
      acts={
        <>
          <BackAct />
          <Act name={busy ? 'Saving' : 'Keep the document'} main off={busy || !file || !title} onAct={() => void save()} />
        </>
      }
    >
      <div class="form">
        <label class="file-door">
          <span class="cell-label">File or photographed paper</span>
          <span class="file-name">{file?.name ?? 'Choose a file'}</span>
          <input
            type="file"
            class="unseen"
            aria-label="File or photographed paper"
            onChange={(event) => {
              const chosen = event.currentTarget.files?.[0] ?? null
              setFile(chosen)
              if (chosen && !draft.value.title) draft.change({ title: chosen.name.replace(/\.\w+$/, '') })
              event.currentTarget.value = ''
            }}
          />
        </label>
        <Field label="Title" value={draft.value.title} onValue={(t) => draft.change({ title: t })} needed />
        <Field label="Remark" value={draft.value.remark} onValue={(remark) => draft.change({ remark })} lines={2} />
        <Told words={told.words} wrong={told.wrong} />
        <TakeOut files={told.files} />
      </div>
    </Screen>
  )
}
