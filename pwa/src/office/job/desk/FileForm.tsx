import { useEffect, useRef, useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { ApiError } from '../../frame/api.ts'
import { Done, Fault } from '../../frame/Say.tsx'
import { added, job } from '../record/state.ts'
import type { Location } from '../../frame/shapes.ts'
import { bytes, count } from '../../frame/words.ts'
import { entryFor, isPicture, pictureSize } from './fileEntry.ts'
import { PlaceField } from './PlaceField.tsx'
import { upload } from './upload.ts'
import { located, placeAtHand } from './useDesk.ts'
import { writeAtDesk } from '../../frame/write.ts'

interface Paper {
  key: number
  file: File
  title: string
  state: 'waiting' | 'sending' | 'there' | 'failed'
  sent: number
  fault: string
}

let lastKey = 0
const paper = (file: File): Paper => ({
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

/** Pictures and papers: each gets its title, all get the place; then they are sent, and each becomes a record. */
export function FileForm({ dropped, close }: { dropped: File[]; close: () => void }) {
  const [papers, setPapers] = useState<Paper[]>(() => dropped.map(paper))
  const [where, setWhere] = useState<Location>(placeAtHand)
  const [fault, setFault] = useState('')
  const [busy, setBusy] = useState(false)
  const chooser = useRef<HTMLInputElement>(null)
  const change = (key: number, news: Partial<Paper>) =>
    setPapers((all) => all.map((one) => (one.key === key ? { ...one, ...news } : one)))

  const send = async (event: Event) => {
    event.preventDefault()
    const waiting = papers.filter((one) => one.state !== 'there')
    if (!waiting.length) return setFault('Choose a file first, or drop files on this sheet.')
    setFault('')
    setBusy(true)
    for (const one of waiting) {
      change(one.key, { state: 'sending', fault: '' })
      try {
        const sent = await upload(one.file, (moved) => change(one.key, { sent: moved }))
        const size = isPicture(one.file) ? await pictureSize(one.file) : null
        const made = await writeAtDesk({
          job: job.value?.id ?? null,
          ...entryFor(one.file, one.title, sent, located(where), size),
        })
        await added(made)
        change(one.key, { state: 'there', sent: one.file.size })
      } catch (reason) {
        change(one.key, { state: 'failed', fault: reason instanceof ApiError ? reason.message : String(reason) })
      }
    }
    setBusy(false)
  }
  const there = papers.filter((one) => one.state === 'there').length
  const all = papers.length > 0 && there === papers.length
  return (
    <form noValidate class="block" onSubmit={send}>
      <div
        class="wide drop-box"
        onDragOver={(event) => event.preventDefault()}
        onDrop={(event) => {
          event.preventDefault()
          event.stopPropagation()
          setPapers([...papers, ...[...(event.dataTransfer?.files ?? [])].map(paper)])
        }}
      >
        <p>
          Drop pictures, PDFs, scans or certificates here, or{' '}
          <button type="button" class="plain" onClick={() => chooser.current?.click()}>
            choose files
          </button>
          .
        </p>
        <input
          ref={chooser}
          class="unseen"
          tabIndex={-1}
          type="file"
          multiple
          aria-label="Files to add"
          onChange={(event) => {
            setPapers([...papers, ...[...(event.currentTarget.files ?? [])].map(paper)])
            event.currentTarget.value = ''
          }}
        />
      </div>
      {papers.length > 0 && (
        <ol class="wide papers" aria-label="Files">
          {papers.map((one) => (
            <PaperLine
              key={one.key}
              paper={one}
              title={(title) => change(one.key, { title })}
              drop={() => setPapers(papers.filter((other) => other !== one))}
              locked={busy || one.state === 'there'}
            />
          ))}
        </ol>
      )}
      <PlaceField value={where} put={setWhere} />
      <Fault>{fault}</Fault>
      <Done>{there > 0 && `${count(there, 'file')} of ${papers.length} added to the record.`}</Done>
      <div class="acts">
        {all ? (
          <button type="button" class="main-act" onClick={close}>
            Back to the record
          </button>
        ) : (
          <button class="main-act" disabled={busy}>
            {busy ? 'Sending' : `Add ${papers.length > 1 ? `all ${papers.length}` : 'it'}`}
          </button>
        )}
      </div>
    </form>
  )
}

interface LineProps {
  paper: Paper
  title: (title: string) => void
  drop: () => void
  locked: boolean
}

function PaperLine({ paper: { file, title: words, state, sent, fault }, title, drop, locked }: LineProps) {
  return (
    <li class={`paper paper-${state}`}>
      <Small file={file} />
      <div>
        {locked ? (
          <b>{words || file.name}</b>
        ) : (
          <Field label={isPicture(file) ? 'Words to the picture' : 'Title'} value={words} onValue={title} />
        )}
        <p class="small soft">
          {file.name}, {bytes(file.size)}
        </p>
        {state === 'sending' && (
          <p class="paper-sent">
            <progress max={file.size} value={sent} aria-label={`Sending ${file.name}`} />
            <span class="figure">
              {bytes(sent)} of {bytes(file.size)}
            </span>
          </p>
        )}
        {state === 'there' && <p class="small">In the record.</p>}
        {state === 'failed' && <p class="field-wrong">{fault}</p>}
      </div>
      {!locked && (
        <button type="button" class="plain" onClick={drop} aria-label={`Leave out ${file.name}`}>
          leave out
        </button>
      )}
    </li>
  )
}

function Small({ file }: { file: File }) {
  const [src, setSrc] = useState('')
  useEffect(() => {
    if (!isPicture(file)) return
    const made = URL.createObjectURL(file)
    setSrc(made)
    return () => URL.revokeObjectURL(made)
  }, [file])
  return src ? (
    <img class="thumb" src={src} alt="" />
  ) : (
    <span class="thumb thumb-paper">{file.name.split('.').pop()?.slice(0, 4)}</span>
  )
}
