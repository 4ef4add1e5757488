import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { placeName } from '../../../trade/engine/locations.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import { listed } from '../../../trade/ground/sentences.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { itemWords, stageWords } from '../../../trade/engine/stages.ts'
import { jointsOf, type Hold, type TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { PageHead } from '../../frame/PageHead.tsx'
import { address } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import { History } from '../History.tsx'
import { whereWords } from '../measuring/where.ts'
import { drawnJoint, preloadOf } from './form.ts'
import { OrderPreview } from './OrderPreview.tsx'
import { PreloadView } from './PreloadView.tsx'
import { bare, type SheetLine, type SheetsShown } from './shapes.ts'
import { ToolsFor } from './ToolsFor.tsx'
import { boltWords, methodWords, targetWords, threadWords } from './wording.ts'

interface Props {
  type: EngineType
  line: SheetLine
  procedures: Procedure[]
  tools: SheetsShown['tools']
}

/** One tightening sheet: the joint with its order, the stages, the bolts, the conditions, and how it was described before. */
export function SheetView({ type, line, procedures, tools }: Props) {
  const sheet = bare(line)
  const [at, show] = useState(0)
  const fasteners = drawnJoint(type, sheet)?.fasteners ?? []
  return (
    <section class="page" aria-labelledby="sheet-title">
      <PageHead id="sheet-title" title={sheet.name} acts={<Acts home={['engine-types', type.id, 'tightening']} type={type.id} sheet={sheet.id} />}>
        <p class="soft">{subtitle(type, sheet)}</p>
      </PageHead>
      {sheet.bolt === 'stretch' && <p class="caution noted figures-caution">{say('tightening.stretch_caution')}</p>}
      <div class="parted headed">
        <div class="tightening-drawing">
          <OrderPreview sheet={sheet} at={at} show={show} fasteners={fasteners} />
        </div>
        <div>
          <Stages sheet={sheet} />
          <Part name={say('tightening.bolts')}>
            <p>
              {say('tightening.fasteners_and_thread', { count: fasteners.length, thread: threadWords(sheet) })} {boltWords(sheet)}
            </p>
          </Part>
          <ToolsFor stage={sheet.stages[at] ?? sheet.stages[0]!} tools={tools} />
          <PreloadView estimate={preloadOf(sheet, [])} />
          <Part name={say('tightening.conditions')}>
            <Conditions type={type} sheet={sheet} procedures={procedures} />
          </Part>
          <Part name={say('common.source')}>
            <p>{sheet.source}</p>
            {sheet.note && <p class="soft">{sheet.note}</p>}
          </Part>
          <History history={line.history} describe={(revision) => <span class="soft gauge-paper own-line small">{inShort(revision.sheet)}</span>} />
        </div>
      </div>
    </section>
  )
}

/** Engine type and joints. */
function subtitle(type: EngineType, sheet: TighteningSheet): string {
  const joints = listed(jointsOf(sheet.joint, type).map(({ name, code }) => name || placeName(type, code)))
  return [type.name, joints, sheet.withdrawn && say('registers.withdrawn')].filter(Boolean).join(', ')
}

function inShort({ stages, source, withdrawn }: TighteningSheet): string {
  return [stages.map(targetWords).join(', '), source, withdrawn && say('registers.withdrawn')].filter(Boolean).join('; ')
}

function Acts({ home, type, sheet }: { home: string[]; type: string; sheet: string }) {
  return (
    <>
      <a class="act" href={address(home)}>
        {say('tightening.all_sheets')}
      </a>
      <a class="act" href={`/api/engine-types/${type}/tightening/${sheet}/file`} download>
        {say('registers.export_file')}
      </a>
      {isManager.value && (
        <a class="act" href={address([...home, sheet, 'edit'])}>
          {say('common.edit')}
        </a>
      )}
    </>
  )
}

function Part({ name, children }: { name: string; children: ComponentChildren }) {
  return (
    <section aria-label={name}>
      <h2>{name}</h2>
      {children}
    </section>
  )
}

function Stages({ sheet }: { sheet: TighteningSheet }) {
  return (
    <Part name={say('tightening.stages')}>
      <ol class="steps">
        {sheet.stages.map((stage) => (
          <li key={stage.code}>
            <b>{stage.words}</b>, {methodWords(stage)}: <span class="figure">{targetWords(stage)}</span>
            {stage.after && <span class="caution gauge-paper own-line small">{stage.after}</span>}
            <span class="figure gauge-paper own-line small">{stage.order.join(' ')}</span>
            {stage.proposed && <span class="caution gauge-paper own-line small">{say('tightening.order_not_confirmed')}</span>}
          </li>
        ))}
      </ol>
    </Part>
  )
}

function Conditions({ type, sheet, procedures }: { type: EngineType; sheet: TighteningSheet; procedures: Procedure[] }) {
  return (
    <ul class="visits">
      {sheet.holds.map((hold, i) => (
        <li key={i}>{holdWords(hold, procedures, type)}</li>
      ))}
      {sheet.two_people && <li>{say('tightening.witness_condition')}</li>}
      {!sheet.holds.length && !sheet.two_people && <li>{say('tightening.no_conditions')}</li>}
    </ul>
  )
}

/** "Crankpin: ovality within limits, everywhere."; "Ticked at build: rods the right way round." */
export function holdWords(hold: Hold, procedures: Procedure[], type: EngineType | null): string {
  if (hold.sort === 'ticked') return say('tightening.ticked_condition', { stage: stageWords(hold.stage), item: itemWords(hold.stage, hold.item) })
  const procedure = procedures.find(({ code }) => code === hold.procedure)
  return say('tightening.measured_condition', {
    procedure: procedure?.name ?? hold.procedure.replaceAll('_', ' '),
    figure: procedure?.figures.find(({ code }) => code === hold.figure)?.words ?? hold.figure.replaceAll('_', ' '),
    where: whereWords(type, hold.where),
  })
}
