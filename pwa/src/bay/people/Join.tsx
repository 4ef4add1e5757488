import { useEffect, useRef, useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { keepForGood, phone } from '../../store/index.ts'
import { useServer } from '../frame/ask.ts'
import { type Scanner, canScan, scan } from './scan.ts'
import { instead } from '../frame/route.ts'
import { sentence } from '../frame/words.ts'

/** The code out of whatever was scanned or typed: an address with #join=CODE, or the code itself. */
export function codeIn(text: string): string {
  const found = /[#&?/]join=([\w-]+)/.exec(text)?.[1] ?? text
  return found.trim()
}

const guess = () => (/iPhone|iPad/.test(navigator.userAgent) ? 'Bench phone' : /Android/.test(navigator.userAgent) ? 'Bench phone' : 'Bench tablet')

/** A phone joins the workshop once, with a code from the office. Its signing key is made here and stays here. */
export function Join({ code: given }: { code: string }) {
  const server = useServer()
  const [code, setCode] = useState(given)
  const [name, setName] = useState(guess)
  const [wrong, setWrong] = useState('')
  const [busy, setBusy] = useState(false)
  const [scanning, setScanning] = useState(false)
  const join = async () => {
    setWrong('')
    if (!codeIn(code)) return setWrong('Scan the code that stands on the screen in the office, or type it here.')
    setBusy(true)
    try {
      await server.join(codeIn(code), name.trim() || guess())
      void keepForGood()
      instead('who')
    } catch (fault) {
      setWrong(sentence(fault))
    } finally {
      setBusy(false)
    }
  }
  if (phone.value) return <p class="page">This phone belongs to {phone.value.workshop.name} already.</p>
  return (
    <main class="page">
      <Mark />
      <h1>Join the workshop</h1>
      <p>In the office, under phones, a code is shown. Scan it with this phone, or type the short code.</p>
      {scanning ? (
        <ScanView
          onCode={(text) => {
            setCode(codeIn(text))
            setScanning(false)
          }}
          onClose={(reason) => {
            setScanning(false)
            setWrong(reason)
          }}
        />
      ) : (
        canScan() && (
          <button type="button" class="wide" onClick={() => setScanning(true)}>
            Scan the code
          </button>
        )
      )}
      <form
        onSubmit={(event) => {
          event.preventDefault()
          void join()
        }}
      >
        <Field label="Code from the office" value={code} onValue={setCode} figures needed />
        <Field label="What this phone is called" value={name} onValue={setName} hint="So that the office knows which one it is: bench 2, Ida's phone." />
        {wrong && (
          <p class="told is-wrong" role="alert">
            {wrong}
          </p>
        )}
        <button class="wide main-act" disabled={busy}>
          {busy ? 'Asking the server' : 'Join'}
        </button>
      </form>
      <p class="small soft">This phone makes a key to sign its records. The key never leaves this phone. Joining needs the workshop's network; recording does not.</p>
    </main>
  )
}

function ScanView({ onCode, onClose }: { onCode: (text: string) => void; onClose: (reason: string) => void }) {
  const video = useRef<HTMLVideoElement>(null)
  useEffect(() => {
    let scanner: Scanner | null = null
    let gone = false
    scan(video.current!, onCode).then(
      (s) => (gone ? s.stop() : (scanner = s)),
      (fault) => onClose(sentence(fault)),
    )
    return () => {
      gone = true
      scanner?.stop()
    }
  }, [])
  return (
    <div class="scan">
      <video ref={video} playsInline muted aria-label="Camera, looking for the code" />
      <button type="button" onClick={() => onClose('')}>
        Type it instead
      </button>
    </div>
  )
}

export function Mark() {
  return (
    <p class="mark" aria-hidden="true">
      <svg width="34" height="34" viewBox="0 0 34 34">
        <circle cx="17" cy="17" r="11" />
        <path d="M17 1v32M1 17h32" />
        <path class="punch" d="M17 12.5l4.5 4.5-4.5 4.5-4.5-4.5z" />
      </svg>
      witnessmark
    </p>
  )
}
