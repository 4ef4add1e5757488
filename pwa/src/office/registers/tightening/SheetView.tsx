import { useState } from 'preact/hooks'
import { Choice } from '../../../parts/controls/Field.tsx'
import { placeName } from '../../../trade/engine/locations.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { itemWords, stageWords } from '../../../trade/engine/stages.ts'
import { jointsOf, type Hold } from '../../../trade/tightening/sheets.ts'
import { PageHead } from '../../frame/PageHead.tsx'
import { whereWords } from '../measuring/where.ts'
import { address } from '../../frame/route.ts'
import { isManager } from '../../frame/session.ts'
import { count, dayAndClock, listed, nameOf } from '../../frame/words.ts'
import { drawnJoint, preloadOf } from './form.ts'
import { JointPlan } from './JointPlan.tsx'
import { orderMarks } from './marks.ts'
import { PhoneView } from './PhoneView.tsx'
import { PreloadView } from './PreloadView.tsx'
import { boltWords, methodWords, targetWords, threadWords } from './said.ts'
import { bare, type SheetLine, type SheetsShown } from './shapes.ts'
import { ToolsFor } from './ToolsFor.tsx'

interface Props {
  type: EngineType
  line: SheetLine
  procedures: Procedure[]
  tools: SheetsShown['tools']
}

/** One tightening sheet: the joint with its order, the stages, the bolts, what it waits on, and how it was described before. */
export function SheetView({ type, line, procedures, tools }: Props) {
  const sheet = bare(line)
  const [at, turn] = useState(0)
  const stage = sheet.stages[at] ?? sheet.stages[0]!
  const fasteners = drawnJoint(type, sheet)?.fasteners ?? []
  const joints = jointsOf(sheet.joint, type).map(({ name, code }) => name || placeName(type, code))
  const home = ['engine-types', type.id, 'tightening']
  return (
    <section class="page" aria-labelledby="sheet-title">
      <PageHead
        id="sheet-title"
        title={sheet.name}
        acts={
          <>
            <a class="act" href={address(home)}>
              All sheets
            </a>
            <a class="act" href={`/api/engine-types/${type.id}/tightening/${sheet.id}/file`} download>
              Export as a file
            </a>
            {isManager.value && (
              <a class="act" href={address([...home, sheet.id, 'edit'])}>
                Describe anew
              </a>
            )}
          </>
        }
      >
        <p class="soft">
          {type.name}, {listed(joints)}
          {sheet.withdrawn && ', withdrawn'}
        </p>
      </PageHead>
      {sheet.bolt === 'stretch' && (
        <p class="caution figures-caution">
          Stretch bolts have yielded: never check one that was turned by angle with a torque wrench, never use one beyond its length.
        </p>
      )}
      <div class="tightening-sheet">
        <div class="tightening-drawing">
          <Choice
            label="Order drawn"
            options={sheet.stages.map(({ words }, i) => ({ value: String(i), words }))}
            chosen={[String(at)]}
            onChoose={(index) => turn(Number(index))}
          />
          <JointPlan fasteners={fasteners} title={`Order of ${stage.words}`} marks={orderMarks(stage.order)} path={stage.order} />
          <p class="soft small">Under each bolt its number in the order.</p>
          {stage.proposed && <p class="caution">The order is only proposed; nobody has confirmed it.</p>}
          <PhoneView sheet={sheet} stage={stage} fasteners={fasteners} />
        </div>
        <div>
          <section aria-label="Stages">
            <h2>Stages</h2>
            <ol class="steps">
              {sheet.stages.map((one) => (
                <li key={one.code}>
                  <b>{one.words}</b>, {methodWords(one)}: <span class="figure">{targetWords(one)}</span>
                  {one.after && <span class="caution gauge-paper">{one.after}</span>}
                  <span class="figure gauge-paper">{one.order.join(' ')}</span>
                  {one.proposed && <span class="caution gauge-paper">order only proposed</span>}
                </li>
              ))}
            </ol>
          </section>
          <section aria-label="Bolts">
            <h2>Bolts</h2>
            <p>
              {count(fasteners.length, 'fastener')}, {threadWords(sheet)}. {boltWords(sheet)}
            </p>
          </section>
          <ToolsFor stage={stage} tools={tools} />
          <PreloadView said={preloadOf(sheet, [])} />
          <section aria-label="Waits on">
            <h2>Before it is closed</h2>
            <ul class="visits">
              {sheet.holds.map((hold, i) => (
                <li key={i}>{holdWords(hold, procedures, type)}</li>
              ))}
              {sheet.two_people && <li>A second person witnesses it, after the last fastener.</li>}
              {!sheet.holds.length && !sheet.two_people && <li>Every fastener done, every departure answered; nothing more.</li>}
            </ul>
          </section>
          <section aria-label="Source">
            <h2>Source</h2>
            <p>{sheet.source}</p>
            {sheet.note && <p class="soft">{sheet.note}</p>}
          </section>
          {line.history && line.history.length > 0 && (
            <section aria-label="History">
              <h2>History</h2>
              <ol class="visits">
                {line.history.map((one) => (
                  <li key={one.position}>
                    {dayAndClock(one.received)}, {nameOf(one.author)}
                    <span class="soft gauge-paper">
                      {one.sheet.stages.map(targetWords).join(', ')}; {one.sheet.source}
                      {one.sheet.withdrawn && '; withdrawn'}
                    </span>
                  </li>
                ))}
              </ol>
            </section>
          )}
        </div>
      </div>
    </section>
  )
}

/** "ovality of crankpin within limits, everywhere"; "ticked at build: rods the right way round" */
export function holdWords(hold: Hold, procedures: Procedure[], type: EngineType | null): string {
  if (hold.sort === 'ticked') return `At ${stageWords(hold.stage)}: ${itemWords(hold.stage, hold.item)}.`
  const procedure = procedures.find(({ code }) => code === hold.procedure)
  const figure = procedure?.figures.find(({ code }) => code === hold.figure)?.words ?? hold.figure.replaceAll('_', ' ')
  return `${procedure?.name ?? hold.procedure.replaceAll('_', ' ')}: ${figure} within limits, ${whereWords(type, hold.where)}.`
}
