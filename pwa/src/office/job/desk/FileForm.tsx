import { useRef, useState } from 'preact/hooks'
import { ApiError } from '../../frame/api.ts'
import { DoneNotice, FaultNotice } from '../../frame/notices.tsx'
import { say } from '../../frame/say.ts'
import type { Location } from '../../frame/shapes.ts'
import { added, job } from '../record/state.ts'
import { entryFor, isPicture, pictureSize } from './fileEntry.ts'
import { FileLine, type FileToAdd } from './FileLine.tsx'
import { PlaceField } from './PlaceField.tsx'
import { upload } from './upload.ts'
import { located, placeAtHand } from './useDesk.ts'
import { writeAtDesk } from '../../frame/write.ts'

let lastKey = 0
const toAdd = (file: File): FileToAdd => ({
  key: (lastKey += 1),
  file,
  title: titleFrom(file.name),
  state: 'waiting',
  sent: 0,
  fault: '',
})

/** "grinder_report-17.pdf" is offered as "grinder report 17"; the file keeps its own name. */
export function titleFrom(name: string): string {
  return name
    .replace(/\.[^.]+$/, '')
    .replace(/[_-]+/g, ' ')
    .trim()
}

/** Pictures and documents: each gets its title, all get the place; then they are sent, and each becomes a record. */
export function FileForm({ dropped, close }: { dropped: File[]; close: () => void }) {
  const [files, setFiles] = useState<FileToAdd[]>(() => dropped.map(toAdd))
  const [where, setWhere] = useState<Location>(placeAtHand)
  const [fault, setFault] = useState('')
  const [busy, setBusy] = useState(false)
  const change = (key: number, news: Partial<FileToAdd>) =>
    setFiles((all) => all.map((line) => (line.key === key ? { ...line, ...news } : line)))

  const send = async (event: Event) => {
    event.preventDefault()
    const waiting = files.filter(({ state }) => state !== 'there')
    if (!waiting.length) return setFault(say('desk.file_needed'))
    setFault('')
    setBusy(true)
    for (const line of waiting) await sendFile(line, where, (news) => change(line.key, news))
    setBusy(false)
  }
  const there = files.filter(({ state }) => state === 'there').length
  return (
    <form noValidate class="block halves" onSubmit={send}>
      <Chooser add={(chosen) => setFiles([...files, ...chosen.map(toAdd)])} />
      {files.length > 0 && (
        <ol class="wide papers" aria-label={say('desk.files')}>
          {files.map((line) => (
            <FileLine
              key={line.key}
              line={line}
              setTitle={(title) => change(line.key, { title })}
              drop={() => setFiles(files.filter((other) => other !== line))}
              locked={busy || line.state === 'there'}
            />
          ))}
        </ol>
      )}
      <PlaceField value={where} put={setWhere} />
      <FaultNotice>{fault}</FaultNotice>
      <DoneNotice>{there > 0 && say('desk.files_added', { added: there, count: files.length })}</DoneNotice>
      <div class="acts">
        {files.length > 0 && there === files.length ? (
          <button type="button" class="main-act" onClick={close}>
            {say('desk.back_to_record')}
          </button>
        ) : (
          <button class="main-act" disabled={busy}>
            {busy ? say('desk.sending') : say('desk.add_files', { count: Math.max(1, files.length) })}
          </button>
        )}
      </div>
    </form>
  )
}

/** Sends a file and signs its record; `change` is given its progress and, at the end, whether it is there. */
async function sendFile({ file, title }: FileToAdd, where: Location, change: (news: Partial<FileToAdd>) => void): Promise<void> {
  change({ state: 'sending', fault: '' })
  try {
    const sent = await upload(file, (bytes) => change({ sent: bytes }))
    const size = isPicture(file) ? await pictureSize(file) : null
    const made = await writeAtDesk({ job: job.value?.id ?? null, ...entryFor(file, title, sent, located(where), size) })
    await added(made)
    change({ state: 'there', sent: file.size })
  } catch (reason) {
    change({ state: 'failed', fault: reason instanceof ApiError ? reason.message : String(reason) })
  }
}

/** Where files are dropped, or chosen with the browser's own dialog. */
function Chooser({ add }: { add: (files: File[]) => void }) {
  const input = useRef<HTMLInputElement>(null)
  return (
    <div
      class="wide drop-box to-middle"
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault()
        event.stopPropagation()
        add([...(event.dataTransfer?.files ?? [])])
      }}
    >
      <p>
        {say('desk.drop_files')}{' '}
        <button type="button" class="plain" onClick={() => input.current?.click()}>
          {say('desk.choose_files')}
        </button>
      </p>
      <input
        ref={input}
        class="unseen"
        tabIndex={-1}
        type="file"
        multiple
        aria-label={say('desk.files_to_add')}
        onChange={(event) => {
          add([...(event.currentTarget.files ?? [])])
          event.currentTarget.value = ''
        }}
      />
    </div>
  )
}
