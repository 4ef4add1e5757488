import { useState } from 'preact/hooks'
import { beginRun } from '../../capture/index.ts'
import { Choice } from '../../parts/controls/Field.tsx'
import { type EngineType, type Job, tightening } from '../../store/index.ts'
import type { Joint } from '../../trade/engine/parts.ts'
import { stretchWords } from '../../trade/tightening/departures.ts'
import { sheetFor } from '../../trade/tightening/known.ts'
import type { TighteningSheet } from '../../trade/tightening/sheets.ts'
import { type Direction, stagesOf } from '../../trade/tightening/stages.ts'
import { Act, BackAct, Screen, Told } from '../frame/Frame.tsx'
import { instead } from '../frame/route.ts'
import { boltCautions, boltsWords, standsWords, targetWords, threadWords, toleranceWords } from './runWords.ts'
import { useType } from '../frame/useJob.ts'
import { useHolds, useRuns } from './useRuns.ts'
import { useSaving } from '../frame/useSaving.ts'

type Bolts = 'new' | 'used' | 'unknown'
const BOLTS: { value: Bolts; words: string }[] = [
  { value: 'new', words: 'new' },
  { value: 'used', words: 'used before' },
  { value: 'unknown', words: 'nobody knows' },
]
const USES = ['1', '2', '3', '4', '5', '6']

/** Before a run: the sheet as it will be carried out, what is not met yet, and which bolts these are. */
export function Begin({ job, about }: { job: Job; about: string }) {
  const type = useType(job)
  const [direction = 'tighten', ...code] = about.split('/') as [Direction, ...string[]]
  const joint = (type?.joints as Joint[] | undefined)?.find((one) => one.code === code.join('/'))
  const sheet = type && joint ? sheetFor(tightening.value, type.id, joint.code, direction)?.what : null
  if (type && joint && sheet) return <Ready job={job} type={type} joint={joint} sheet={sheet} direction={direction} />
  return (
    <Screen title="Tightening" job={job} acts={<BackAct />}>
      <p>No tightening sheet for this joint has reached this phone.</p>
    </Screen>
  )
}

function Ready({ job, type, joint, sheet, direction }: { job: Job; type: EngineType; joint: Joint; sheet: TighteningSheet; direction: Direction }) {
  const loosen = direction === 'loosen'
  // What is let go was tightened before: there is nothing to ask.
  const [bolts, setBolts] = useState<Bolts | ''>(loosen ? 'used' : '')
  const [use, setUse] = useState('1')
  const { told, busy, keep } = useSaving()
  const missing = useHolds(job, type)(sheet)
  const going = (useRuns(job, type) ?? []).find((run) => run.joint === joint.code && run.state.direction === direction && !run.state.closed)
  const counted = bolts === 'used' && !loosen ? Number(use) : 0
  const stretch = bolts ? stretchWords(sheet, { direction, bolts, use: counted }) : ''
  const begin = async () => {
    if (!bolts) return
    const at = { job: job.id, place: `${joint.code}/${joint.fasteners[0]!.label}`, point: '' }
    const saved = await keep(() => beginRun(at, { sheet: sheet.id, joint: joint.code, direction, bolts, use: counted, remark: '' }), 'Saved: begun.')
    if (saved) instead('run', job.id, saved.run)
  }
  return (
    <Screen
      title={`${loosen ? 'Loosen' : 'Tighten'} ${joint.name}`}
      job={job}
      acts={
        <>
          <BackAct />
          {going && <Act name={`Go on: ${standsWords(going.state)}`} main onAct={() => instead('run', job.id, going.id)} />}
          <Act name={busy ? 'Saving' : going ? 'Begin another' : 'Begin'} main={!going} small={Boolean(going)} off={busy || !bolts} onAct={() => void begin()} />
        </>
      }
    >
      <p>
        <strong>{sheet.name}</strong>
        <span class="small soft">
          {' '}
          {[threadWords(sheet), boltsWords(sheet, '')].filter(Boolean).join(', ')}. From: {sheet.source}
        </span>
      </p>
      {missing.length > 0 && (
        <div class="run-missing">
          <p>
            <strong>Not met yet.</strong> The run can be begun; the sheet cannot be closed before.
          </p>
          <ul class="settle">
            {missing.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </div>
      )}
      {!loosen && <Choice label="The bolts are" options={BOLTS} chosen={bolts ? [bolts] : []} onChoose={setBolts} />}
      {!loosen && bolts === 'used' && sheet.bolt === 'stretch' && (
        <Choice label="Tightened before, times" options={USES.map((value) => ({ value, words: value }))} chosen={[use]} onChoose={setUse} />
      )}
      {stretch && (
        <p class="run-caution">
          <strong>{stretch}</strong> A manager has to give a reason before the sheet can be closed.
        </p>
      )}
      {!loosen && boltCautions(sheet).map((words) => (
        <p key={words} class="run-caution small">
          {words}
        </p>
      ))}
      <ol class="stage-list">
        {stagesOf(sheet, direction).map((stage) => (
          <li key={stage.code}>
            <span>
              <strong>{stage.words}</strong>, {targetWords(stage)} <span class="figure">{toleranceWords(stage)}</span>
              {stage.after && <span class="small"> First: {stage.after}.</span>}
              {stage.proposed && <span class="tag-brass">order only proposed</span>}
              <span class="small soft"> {stage.order.join(' · ')}</span>
            </span>
          </li>
        ))}
      </ol>
      {sheet.two_people && <p class="small">A second person witnesses it at the end.</p>}
      <p class="small soft">The maker's data comes first.</p>
      <Told words={told.words} wrong={told.wrong} />
    </Screen>
  )
}
