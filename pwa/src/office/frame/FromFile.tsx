import { useRef, useState } from 'preact/hooks'
import { Refusal } from '../../trade/ground/errors.ts'
import { FaultNotice } from './notices.tsx'
import { say } from './say.ts'

interface Props {
  /** The name of the field that takes the file. */
  label: string
  /** The sentence for a file that holds something else. */
  unreadable: string
  /** Takes the text of the file; a Refusal is shown in its own words. */
  read: (text: string) => void
}

/** A button that loads what another workshop exported. */
export function FromFile({ label, unreadable, read }: Props) {
  const chooser = useRef<HTMLInputElement>(null)
  const [fault, setFault] = useState('')
  const load = async (file: File | undefined) => {
    if (!file) return
    try {
      read(await file.text())
    } catch (reason) {
      setFault((reason instanceof Refusal && reason.message) || unreadable)
    }
  }
  return (
    <>
      <button type="button" onClick={() => chooser.current?.click()}>
        {say('common.load_file')}
      </button>
      <input
        ref={chooser}
        class="unseen"
        tabIndex={-1}
        type="file"
        accept=".json,application/json"
        aria-label={label}
        onChange={(event) => {
          void load(event.currentTarget.files?.[0])
          event.currentTarget.value = ''
        }}
      />
      <FaultNotice>{fault}</FaultNotice>
    </>
  )
}
