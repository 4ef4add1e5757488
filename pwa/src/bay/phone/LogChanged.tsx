import { useState } from 'preact/hooks'
import { noteLogDifference, signedIn } from '../../capture/index.ts'
import { conflict, conflictFile, type Conflict } from '../../store/index.ts'
import { StatusMessage } from '../frame/Frame.tsx'
import { HeadCode } from './HeadCode.tsx'
import { handOver } from '../frame/TakeOut.tsx'
import { say } from '../frame/say.ts'
import { open } from '../frame/route.ts'
import { useServer } from '../frame/server.ts'
import { sentence } from '../frame/words.ts'

/** On every screen: that something is wrong with the server's log, and the way to what it is. */
export function AlarmStrip() {
  if (!useServer().status.value.alarm) return null
  return (
    <p class="alarm is-top alarm-short bold washed" role="alert">
      <span>{say('alarm.short')}</span>
      <button type="button" onClick={() => open('phone')}>
        {say('alarm.look')}
      </button>
    </p>
  )
}

/** What to do about two fingerprints that contradict each other: save them, and note them in the record. */
export function LogChanged() {
  const server = useServer()
  const [message, setMessage] = useState('')
  const standing = conflict.value
  const note = async () => {
    try {
      await noteLogDifference()
      setMessage(say('alarm.noted'))
      void server.sendNow()
    } catch (fault) {
      setMessage(sentence(fault))
    }
  }
  const save = async (open: Conflict) => handOver(await conflictFile(open), 'log-fingerprints.json')
  return (
    <>
      {standing && (
        <section>
          <button type="button" class="wide" onClick={() => void save(standing)}>
            {say('alarm.save')}
          </button>
          <details>
            <summary class="wide">{say('alarm.codes')}</summary>
            <HeadCode head={standing.before} label={say('alarm.code_before')} />
            <HeadCode head={standing.after} label={say('alarm.code_after')} />
          </details>
          <p class="small soft">{say('alarm.note_about')}</p>
          <button type="button" class="wide" disabled={!signedIn.value} onClick={() => void note()}>
            {say('alarm.note')}
          </button>
        </section>
      )}
      <StatusMessage words={message} />
    </>
  )
}
