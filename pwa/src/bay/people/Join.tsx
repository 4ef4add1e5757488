import { useEffect, useRef, useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { keepForGood, phone } from '../../store/index.ts'
import { useServer } from '../frame/server.ts'
import { type Scanner, canScan, scan } from './scan.ts'
import { instead } from '../frame/route.ts'
import { sentence } from '../frame/words.ts'
import { say } from '../frame/say.ts'
import './joining.css'

/** The code out of whatever was scanned or typed: an address with #join=CODE, or the code itself. */
export function codeIn(text: string): string {
  const code = /[#&?/]join=([\w-]+)/.exec(text)?.[1] ?? text
  return code.trim()
}

const proposedName = () => (/iPhone|iPad|Android/.test(navigator.userAgent) ? say('join.bench_phone') : say('join.bench_tablet'))

/** A phone joins the workshop once, with a code from the office. Its signing key is made here and stays here. */
export function Join({ code: given }: { code: string }) {
  const { code, setCode, name, setName, wrong, setWrong, busy, join } = useJoining(given)
  const [scanning, setScanning] = useState(false)
  if (phone.value) return <p class="page">{say('join.already', { workshop: phone.value.workshop.name })}</p>
  return (
    <main class="page">
      <Mark />
      <h1 class="headline">{say('join.title')}</h1>
      <p>{say('join.how')}</p>
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
            {say('join.scan')}
          </button>
        )
      )}
      <form
        onSubmit={(event) => {
          event.preventDefault()
          void join()
        }}
      >
        <Field label={say('join.code')} value={code} onValue={setCode} figures needed />
        <Field label={say('join.name')} value={name} onValue={setName} hint={say('join.name_hint')} />
        {wrong && (
          <p class="told is-wrong bold" role="alert">
            {wrong}
          </p>
        )}
        <button class="wide main-act" disabled={busy}>
          {busy ? say('join.busy') : say('join.join')}
        </button>
      </form>
      <p class="small soft">{say('join.about_key')}</p>
    </main>
  )
}

function useJoining(given: string) {
  const server = useServer()
  const [code, setCode] = useState(given)
  const [name, setName] = useState(proposedName)
  const [wrong, setWrong] = useState('')
  const [busy, setBusy] = useState(false)
  const join = async () => {
    setWrong('')
    if (!codeIn(code)) return setWrong(say('join.no_code'))
    setBusy(true)
    try {
      await server.join(codeIn(code), name.trim() || proposedName())
      void keepForGood()
      instead('who')
    } catch (fault) {
      setWrong(sentence(fault))
    } finally {
      setBusy(false)
    }
  }
  return { code, setCode, name, setName, wrong, setWrong, busy, join }
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
      <video class="own-line whole" ref={video} playsInline muted aria-label={say('join.camera')} />
      <button class="whole" type="button" onClick={() => onClose('')}>
        {say('join.type_instead')}
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
        <path class="blue-head" d="M17 12.5l4.5 4.5-4.5 4.5-4.5-4.5z" />
      </svg>
      {say('frame.name')}
    </p>
  )
}
