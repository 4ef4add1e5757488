import type { EngineType } from '../../../trade/engine/parts.ts'
import { jointsOf } from '../../../trade/tightening/sheets.ts'
import { address } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import type { SheetLine } from './shapes.ts'
import { targetWords, threadWords } from './wording.ts'

interface Props {
  type: EngineType
  /** Of the joint, or of all joints of a part. */
  code: string
  sheets: SheetLine[]
  /** The address of all sheets of the engine type. */
  home: string[]
}

/** The sheets of one joint. */
export function SheetTable({ type, code, sheets, home }: Props) {
  const joints = jointsOf(code, type)
  const title = joints.map((joint) => joint.name || joint.code).join(', ') || say('tightening.joint_gone', { code })
  return (
    <section aria-label={title}>
      <h2>{title}</h2>
      <table class="table is-named limit-lines">
        <thead>
          <tr>
            <th scope="col">{say('tightening.column_sheet')}</th>
            <th scope="col">{say('tightening.column_bolts')}</th>
            <th scope="col">{say('tightening.column_stages')}</th>
            <th scope="col">{say('registers.column_source')}</th>
          </tr>
        </thead>
        <tbody>
          {sheets.map((sheet) => (
            <SheetRow key={sheet.id} sheet={sheet} fasteners={joints[0]?.fasteners.length} href={address([...home, sheet.id])} />
          ))}
        </tbody>
      </table>
    </section>
  )
}

function SheetRow({ sheet, fasteners, href }: { sheet: SheetLine; fasteners: number | undefined; href: string }) {
  return (
    <tr class={sheet.withdrawn ? 'is-withdrawn' : ''}>
      <th scope="row">
        <a href={href}>{sheet.name}</a>
      </th>
      <td>
        {fasteners !== undefined && `${fasteners} × `}
        {[threadWords(sheet), sheet.bolt === 'stretch' && say('tightening.stretch')].filter(Boolean).join(', ')}
      </td>
      <td>
        {sheet.stages.map((stage, i) => (
          <span key={stage.code} class="stage-said own-line">
            {i + 1}. {stage.words} <span class="figure">{targetWords(stage)}</span>
            {stage.proposed && <span class="caution"> {say('tightening.order_not_confirmed')}</span>}
          </span>
        ))}
      </td>
      <td>
        {sheet.withdrawn && <b>{say('registers.withdrawn')}: </b>}
        {sheet.source}
        {sheet.history && sheet.history.length > 1 && <span class="soft">. {say('limits.versions', { count: sheet.history.length })}</span>}
      </td>
    </tr>
  )
}
