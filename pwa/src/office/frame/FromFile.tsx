import { useRef, useState } from 'preact/hooks'
import { ApiError } from './api.ts'
import { FaultNotice } from './notices.tsx'
import { say } from './say.ts'

interface Props {
  /** The name of the field that takes the file. */
  label: string
  /** The sentence for a file that holds something else. */
  unreadable: string
  /** Takes the text of the file; the server's refusal is shown in its own words. */
  read: (text: string) => Promise<void>
}

/** A button that loads what another workshop exported. */
export function FromFile({ label, unreadable, read }: Props) {
  const chooser = useRef<HTMLInputElement>(null)
  const [fault, setFault] = useState('')
  const load = async (file: File | undefined) => {
    if (!file) return
    try {
      await read(await file.text())
      setFault('')
    } catch (reason) {
      setFault((reason instanceof ApiError && reason.message) || unreadable)
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
