import { useEffect, useRef, useState } from 'preact/hooks'
import { Sheet } from '../../frame/Sheet.tsx'
import { FileForm } from './FileForm.tsx'
import { ReadingForm } from './ReadingForm.tsx'
import { FindingForm, NoteForm, StageForm } from './WordForms.tsx'
import { say } from '../../frame/say.ts'
import './desk.css'

const SORTS = [
  ['files', say('desk.sort_files')],
  ['note', say('desk.sort_note')],
  ['finding', say('desk.sort_finding')],
  ['reading', say('desk.sort_reading')],
  ['stage', say('desk.sort_stage')],
] as const
type Sort = (typeof SORTS)[number][0]

/** Adds to the record from the desk. What is added is a record like any other: signed, numbered, never changed. */
export function Add({ files, close }: { files: File[]; close: () => void }) {
  const [sort, setSort] = useState<Sort>('files')
  const tabs = useRef<HTMLDivElement>(null)
  useEffect(() => tabs.current?.querySelector<HTMLElement>('[aria-pressed=true]')?.focus(), [])
  return (
    <Sheet title={say('desk.add_title')} close={close}>
      <div class="sorts segments ring-inside" role="group" aria-label={say('desk.what_to_add')} ref={tabs}>
        {SORTS.map(([code, words]) => (
          <button key={code} type="button" aria-pressed={sort === code} onClick={() => setSort(code)}>
            {words}
          </button>
        ))}
      </div>
      {sort === 'files' && <FileForm dropped={files} close={close} />}
      {sort === 'note' && <NoteForm close={close} />}
      {sort === 'finding' && <FindingForm close={close} />}
      {sort === 'reading' && <ReadingForm />}
      {sort === 'stage' && <StageForm close={close} />}
    </Sheet>
  )
}
