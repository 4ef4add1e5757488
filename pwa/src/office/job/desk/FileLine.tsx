import { useEffect, useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { say } from '../../frame/say.ts'
import { bytes } from '../../frame/words.ts'
import { isPicture } from './fileEntry.ts'

/** A file that was chosen at the desk, on its way into the record. */
export interface FileToAdd {
  key: number
  file: File
  title: string
  state: 'waiting' | 'sending' | 'there' | 'failed'
  /** Bytes that have arrived. */
  sent: number
  fault: string
}

interface Props {
  line: FileToAdd
  setTitle: (title: string) => void
  drop: () => void
  /** Its title can no longer be changed. */
  locked: boolean
}

export function FileLine({ line: { file, title, state, sent, fault }, setTitle, drop, locked }: Props) {
  return (
    <li class={`grid-tops hair-under paper paper-${state}`}>
      <FilePreview file={file} />
      <div>
        {locked ? (
          <b>{title || file.name}</b>
        ) : (
          <Field label={isPicture(file) ? say('desk.picture_caption') : say('desk.title')} value={title} onValue={setTitle} />
        )}
        <p class="small soft">
          {file.name}, {bytes(file.size)}
        </p>
        {state === 'sending' && (
          <p class="paper-sent in-grid">
            <progress max={file.size} value={sent} aria-label={say('desk.sending_name', { name: file.name })} />
            <span class="figure">{say('desk.bytes_sent', { sent: bytes(sent), size: bytes(file.size) })}</span>
          </p>
        )}
        {state === 'there' && <p class="small">{say('desk.saved')}</p>}
        {state === 'failed' && <p class="field-wrong">{fault}</p>}
      </div>
      {!locked && (
        <button type="button" class="plain" onClick={drop} aria-label={say('desk.leave_out_name', { name: file.name })}>
          {say('desk.leave_out')}
        </button>
      )}
    </li>
  )
}

/** A preview of a picture; of another file its ending. */
function FilePreview({ file }: { file: File }) {
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
    <span class="thumb thumb-paper centred soft tiny">{file.name.split('.').pop()?.slice(0, 4)}</span>
  )
}
