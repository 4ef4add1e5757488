import { useState } from 'preact/hooks'
import { beginRun } from '../../capture/index.ts'
import { Choice } from '../../parts/controls/Field.tsx'
import { type EngineType, type Job, tightening } from '../../store/index.ts'
import type { Joint } from '../../trade/engine/parts.ts'
import { stretchWords } from '../../trade/tightening/departures.ts'
import { sheetFor } from '../../trade/tightening/known.ts'
import type { TighteningSheet } from '../../trade/tightening/sheets.ts'
import { type Direction, stagesOf } from '../../trade/tightening/stages.ts'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { instead } from '../frame/route.ts'
import { say } from '../frame/say.ts'
import { useType } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { boltCautions, sourceWords, standsWords, targetWords, toleranceWords } from './runWords.ts'
import { useHolds, useRuns } from './useRuns.ts'

type Bolts = 'new' | 'used' | 'unknown'
const bolts = (): { value: Bolts; words: string }[] => [
  { value: 'new', words: say('begin.bolts_new') },
  { value: 'used', words: say('begin.bolts_used') },
  { value: 'unknown', words: say('begin.bolts_unknown') },
]
const USES = ['1', '2', '3', '4', '5', '6']

/** Before a run: the tightening sheet as it will be carried out, what is not met yet, and which bolts these are. */
export function Begin({ job, about }: { job: Job; about: string }) {
  const type = useType(job)
  const [direction = 'tighten', ...code] = about.split('/') as [Direction, ...string[]]
  const joint = (type?.joints as Joint[] | undefined)?.find((listed) => listed.code === code.join('/'))
  const sheet = type && joint ? sheetFor(tightening.value, type.id, joint.code, direction)?.data : null
  if (type && joint && sheet) return <Ready job={job} type={type} joint={joint} sheet={sheet} direction={direction} />
  return (
    <Screen title={say('run.title')} job={job} acts={<BackAct />}>
      <p>{say('begin.no_sheet')}</p>
    </Screen>
  )
}

interface ReadyProps {
  job: Job
  type: EngineType
  joint: Joint
  sheet: TighteningSheet
  direction: Direction
}

function Ready({ job, type, joint, sheet, direction }: ReadyProps) {
  const loosen = direction === 'loosen'
  // What is released was tightened before: there is nothing to choose.
  const [chosen, setChosen] = useState<Bolts | ''>(loosen ? 'used' : '')
  const [use, setUse] = useState('1')
  const { message, busy, attempt } = useSaving()
  const missing = useHolds(job, type)(sheet)
  const going = (useRuns(job, type) ?? []).find((run) => run.joint === joint.code && run.state.direction === direction && !run.state.closed)
  const counted = chosen === 'used' && !loosen ? Number(use) : 0
  const stretch = chosen ? stretchWords(sheet, { direction, bolts: chosen, use: counted }) : ''
  const begin = async () => {
    if (!chosen) return
    const at = { job: job.id, place: `${joint.code}/${joint.fasteners[0]!.label}`, point: '' }
    const saved = await attempt(() => beginRun(at, { sheet: sheet.id, joint: joint.code, direction, bolts: chosen, use: counted, remark: '' }), say('begin.saved'))
    if (saved) instead('run', job.id, saved.run)
  }
  return (
    <Screen
      title={loosen ? say('tighten.loosen_joint', { joint: joint.name }) : say('tighten.tighten_joint', { joint: joint.name })}
      job={job}
      acts={
        <>
          <BackAct />
          {going && <Act name={say('begin.go_on', { state: standsWords(going.state) })} main onAct={() => instead('run', job.id, going.id)} />}
          <Act name={busy ? say('common.saving') : going ? say('begin.another') : say('begin.begin')} main={!going} small={Boolean(going)} off={busy || !chosen} onAct={() => void begin()} />
        </>
      }
    >
      <p>
        <strong>{sheet.name}</strong> <span class="small soft">{sourceWords(sheet, '')}</span>
      </p>
      <NotMet missing={missing} />
      {!loosen && <Choice label={say('begin.bolts')} options={bolts()} chosen={chosen ? [chosen] : []} onChoose={setChosen} />}
      {!loosen && chosen === 'used' && sheet.bolt === 'stretch' && (
        <Choice label={say('begin.times')} options={USES.map((value) => ({ value, words: value }))} chosen={[use]} onChoose={setUse} />
      )}
      {stretch && (
        <p class="warned">
          <strong>{stretch}</strong> {say('begin.needs_manager')}
        </p>
      )}
      <SheetStages sheet={sheet} direction={direction} />
      {sheet.two_people && <p class="small">{say('begin.two_people')}</p>}
      <p class="small soft">{say('common.makers_data_first')}</p>
      <StatusMessage words={message.words} wrong={message.wrong} />
    </Screen>
  )
}

/** Conditions of the sheet that this job does not meet yet. */
function NotMet({ missing }: { missing: string[] }) {
  if (missing.length === 0) return null
  return (
    <div class="warned">
      <p>
        <strong>{say('begin.not_met')}</strong> {say('begin.not_met_about')}
      </p>
      <ul class="settle">
        {missing.map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
    </div>
  )
}

function SheetStages({ sheet, direction }: Pick<ReadyProps, 'sheet' | 'direction'>) {
  return (
    <>
      {direction !== 'loosen' &&
        boltCautions(sheet).map((words) => (
          <p key={words} class="warned small">
            {words}
          </p>
        ))}
      <ol class="stage-list">
        {stagesOf(sheet, direction).map((stage) => (
          <li class="along ends hair-under" key={stage.code}>
            <span>
              <strong>{stage.words}</strong>, {targetWords(stage)} <span class="figure">{toleranceWords(stage)}</span>
              {stage.after && <span class="small"> {say('begin.first', { what: stage.after })}</span>}
              {stage.proposed && <span class="tag-brass tiny">{say('run.order_proposed')}</span>}
              <span class="small soft"> {stage.order.join(' · ')}</span>
            </span>
          </li>
        ))}
      </ol>
    </>
  )
}
