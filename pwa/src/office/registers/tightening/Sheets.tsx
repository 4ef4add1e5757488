import { useState } from 'preact/hooks'
import type { EngineType } from '../../../trade/engine/parts.ts'
import { jointsOf, type TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { postFile } from '../../frame/api.ts'
import { FromFile } from '../../frame/FromFile.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { Empty, Fault } from '../../frame/Say.tsx'
import { useAsk } from '../../frame/useAsk.ts'
import { address, go, route } from '../../frame/route.ts'
import { isManager } from '../../frame/session.ts'
import { count } from '../../frame/words.ts'
import { blank } from './form.ts'
import { targetWords, threadWords } from './said.ts'
import type { Procedures } from '../measuring/shapes.ts'
import { bare, type SheetLine, type SheetsShown } from './shapes.ts'
import { SheetForm } from './SheetForm.tsx'
import { SheetView } from './SheetView.tsx'

/** The tightening sheets of an engine type, joint by joint. */
export function Sheets({ type }: { type: EngineType }) {
  const [, , , id, leaf] = route.value.path
  const { told, trouble, again } = useAsk<SheetsShown>(`/api/engine-types/${type.id}/tightening`)
  const listed = useAsk<Procedures>('/api/procedures').told
  const [taken, setTaken] = useState<TighteningSheet | null>(null)
  const procedures = (listed?.procedures ?? []).map(({ procedure }) => procedure)
  const sheets = told?.sheets ?? []
  const tools = told?.tools ?? []
  const one = sheets.find((sheet) => sheet.id === id)
  const home = ['engine-types', type.id, 'tightening']
  const saved = (sheet: string) => {
    setTaken(null)
    again()
    go([...home, sheet])
  }
  if (id === 'new' && isManager.value)
    return <SheetForm type={type} procedures={procedures} tools={tools} start={taken ?? blank(type)} saved={saved} />
  if (id && !told && !trouble) return <p class="opening">Opening the sheet.</p>
  if (one && leaf === 'edit' && isManager.value)
    return <SheetForm key={one.id} type={type} procedures={procedures} tools={tools} start={bare(one)} saved={saved} />
  if (one) return <SheetView key={one.id} type={type} line={one} procedures={procedures} tools={tools} />
  const codes = [...new Set(sheets.map(({ joint }) => joint))]
  return (
    <section class="page limits-page" aria-labelledby="tightening-title">
      <PageHead
        id="tightening-title"
        title={`Tightening, ${type.name}`}
        acts={
          <>
            <a class="act" href={address(['engine-types', type.id])}>
              The drawing
            </a>
            {isManager.value && (
              <>
                <FromFile
                  holds="Tightening sheet"
                  read={async (text) => {
                    const told = await postFile<{ sheet: TighteningSheet }>(`/api/engine-types/${type.id}/tightening/file`, text)
                    setTaken(shapely(told.sheet))
                    go([...home, 'new'])
                  }}
                />
                <a class="act main-act" href={address([...home, 'new'])} onClick={() => setTaken(null)}>
                  New tightening sheet
                </a>
              </>
            )}
          </>
        }
      />
      <p class="page-words">
        In which order and in which stages each joint is tightened, from the maker’s data. The phone guides by the sheet and records
        what was done, departures too.
      </p>
      <Fault>{trouble?.message || (id && told && !one ? 'There is no such tightening sheet here.' : '')}</Fault>
      {told && sheets.length === 0 && <Empty>None yet. Without a sheet a joint is recorded fastener by fastener, unguided.</Empty>}
      {codes.map((code) => (
        <OfJoint key={code} type={type} code={code} sheets={sheets.filter(({ joint }) => joint === code)} home={home} />
      ))}
      <WithoutOne type={type} sheets={sheets} />
    </section>
  )
}

function OfJoint({ type, code, sheets, home }: { type: EngineType; code: string; sheets: SheetLine[]; home: string[] }) {
  const joints = jointsOf(code, type)
  const words = joints.map(({ name, code: own }) => name || own).join(', ') || `${code}, which the engine type no longer has`
  return (
    <section aria-label={words}>
      <h2>{words}</h2>
      <table class="limit-lines">
        <thead>
          <tr>
            <th scope="col">sheet</th>
            <th scope="col">bolts</th>
            <th scope="col">stages</th>
            <th scope="col">source</th>
          </tr>
        </thead>
        <tbody>
          {sheets.map((sheet) => (
            <tr key={sheet.id} class={sheet.withdrawn ? 'is-withdrawn' : ''}>
              <th scope="row">
                <a href={address([...home, sheet.id])}>{sheet.name}</a>
              </th>
              <td>
                {joints[0] && `${joints[0].fasteners.length} × `}
                {threadWords(sheet)}
                {sheet.bolt === 'stretch' && ', stretch bolts'}
              </td>
              <td>
                {sheet.stages.map((stage, i) => (
                  <span key={stage.code} class="stage-said">
                    {i + 1}. {stage.words} <span class="figure">{targetWords(stage)}</span>
                    {stage.proposed && <span class="caution"> order only proposed</span>}
                  </span>
                ))}
              </td>
              <td>
                {sheet.withdrawn && <b>withdrawn, </b>}
                {sheet.source}
                {sheet.history && sheet.history.length > 1 && <span class="soft">. Described {count(sheet.history.length, 'time')}</span>}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

/** Joints that nobody wrote a sheet for, so that the gap is seen before it is met at the bench. */
function WithoutOne({ type, sheets }: { type: EngineType; sheets: SheetLine[] }) {
  const covered = sheets.filter(({ withdrawn }) => !withdrawn).flatMap(({ joint }) => jointsOf(joint, type))
  const open = type.joints.filter((joint) => joint.fasteners.length && !covered.some(({ code }) => code === joint.code))
  if (!open.length || !sheets.length) return null
  return <p class="soft without-sheet">Without a sheet: {open.map(({ name, code }) => name || code).join(', ')}.</p>
}

/** A sheet that the form can show, whatever else may be wrong with it. */
function shapely(sheet: TighteningSheet): TighteningSheet {
  if (!Array.isArray(sheet.stages) || !Array.isArray(sheet.holds)) throw new Error('no lists')
  return { ...sheet, thread: { ...sheet.thread }, friction: { ...sheet.friction } }
}
