import { useRef, useState } from 'preact/hooks'
import { ApiError } from './api.ts'
import { Fault } from './Say.tsx'

interface Props {
  /** What such a file holds, as the first word of a sentence: "Procedure". */
  holds: string
  /** Takes the text of the file; a ApiError is told as it stands, anything else as a file that cannot be shown. */
  read: (text: string) => Promise<void>
}

/** A button that takes what another workshop exported. */
export function FromFile({ holds, read }: Props) {
  const chooser = useRef<HTMLInputElement>(null)
  const [fault, setFault] = useState('')
  const take = async (file: File | undefined) => {
    if (!file) return
    try {
      await read(await file.text())
      setFault('')
    } catch (reason) {
      const refused = reason instanceof ApiError ? reason.message : ''
      setFault(refused || `This file holds no ${holds.toLowerCase()} that can be shown. Choose one exported from a workshop.`)
    }
  }
  return (
    <>
      <button type="button" onClick={() => chooser.current?.click()}>
        Take from a file
      </button>
      <input
        ref={chooser}
        class="unseen"
        tabIndex={-1}
        type="file"
        accept=".json,application/json"
        aria-label={`${holds} file`}
        onChange={(event) => {
          void take(event.currentTarget.files?.[0])
          event.currentTarget.value = ''
        }}
      />
      <Fault>{fault}</Fault>
    </>
  )
}
