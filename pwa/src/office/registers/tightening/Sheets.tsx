import { useState } from 'preact/hooks'
import type { EngineType } from '../../../trade/engine/parts.ts'
import { jointsOf, type TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { postFile } from '../../frame/api.ts'
import { FromFile } from '../../frame/FromFile.tsx'
import { EmptyNotice, FaultNotice } from '../../frame/notices.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useGet } from '../../frame/useGet.ts'
import { address, go, route } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import { useProcedures } from '../useProcedures.ts'
import { blank } from './form.ts'
import { bare, type SheetLine, type SheetsShown } from './shapes.ts'
import { SheetForm } from './SheetForm.tsx'
import { SheetTable } from './SheetTable.tsx'
import { SheetView } from './SheetView.tsx'
import './sheets.css'

const homeOf = (type: EngineType) => ['engine-types', type.id, 'tightening']

/** The tightening sheets of an engine type, and the pages under them. */
export function Sheets({ type }: { type: EngineType }) {
  const [, , , id, leaf] = route.value.path
  const { data, error, reload } = useGet<SheetsShown>(`/api/engine-types/${type.id}/tightening`)
  const [fromFile, setFromFile] = useState<TighteningSheet | null>(null)
  const procedures = useProcedures()
  const { sheets, tools } = data ?? { sheets: [], tools: [] }
  const line = sheets.find((sheet) => sheet.id === id)
  const onSaved = (saved: string) => {
    setFromFile(null)
    reload()
    go([...homeOf(type), saved])
  }
  const shared = { type, procedures, tools }
  if (id === 'new' && isManager.value) return <SheetForm {...shared} start={fromFile ?? blank(type)} onSaved={onSaved} />
  if (id && !data && !error) return <p class="opening">{say('tightening.opening')}</p>
  if (line && leaf === 'edit' && isManager.value) return <SheetForm key={line.id} {...shared} start={bare(line)} onSaved={onSaved} />
  if (line) return <SheetView key={line.id} {...shared} line={line} />
  const fault = error?.message || (id && data ? say('tightening.not_found') : '')
  return <SheetList type={type} sheets={sheets} loaded={Boolean(data)} fault={fault} startFrom={setFromFile} />
}

interface ListProps {
  type: EngineType
  sheets: SheetLine[]
  loaded: boolean
  fault: string
  startFrom: (sheet: TighteningSheet | null) => void
}

/** All sheets, joint by joint. */
function SheetList({ type, sheets, loaded, fault, startFrom }: ListProps) {
  const codes = [...new Set(sheets.map(({ joint }) => joint))]
  return (
    <section class="page limits-page" aria-labelledby="tightening-title">
      <PageHead id="tightening-title" title={say('tightening.title', { type: type.name })} acts={<Acts type={type} startFrom={startFrom} />} />
      <p class="page-words">{say('tightening.intro')}</p>
      <FaultNotice>{fault}</FaultNotice>
      {loaded && sheets.length === 0 && <EmptyNotice>{say('tightening.none_yet')}</EmptyNotice>}
      {codes.map((code) => (
        <SheetTable key={code} type={type} code={code} sheets={sheets.filter(({ joint }) => joint === code)} home={homeOf(type)} />
      ))}
      <JointsWithoutSheet type={type} sheets={sheets} />
    </section>
  )
}

function Acts({ type, startFrom }: Pick<ListProps, 'type' | 'startFrom'>) {
  return (
    <>
      <a class="act" href={address(['engine-types', type.id])}>
        {say('registers.the_drawing')}
      </a>
      {isManager.value && (
        <>
          <FromFile
            label={say('tightening.file')}
            unreadable={say('tightening.file_unreadable')}
            read={async (text) => {
              const { sheet } = await postFile<{ sheet: TighteningSheet }>(`/api/engine-types/${type.id}/tightening/file`, text)
              startFrom(withLists(sheet))
              go([...homeOf(type), 'new'])
            }}
          />
          <a class="act main-act" href={address([...homeOf(type), 'new'])} onClick={() => startFrom(null)}>
            {say('tightening.new_sheet')}
          </a>
        </>
      )}
    </>
  )
}

/** Joints that have no sheet yet, so that the gap is seen before it is met at the bench. */
function JointsWithoutSheet({ type, sheets }: { type: EngineType; sheets: SheetLine[] }) {
  const covered = sheets.filter(({ withdrawn }) => !withdrawn).flatMap(({ joint }) => jointsOf(joint, type))
  const open = type.joints.filter((joint) => joint.fasteners.length && !covered.some(({ code }) => code === joint.code))
  if (!open.length || !sheets.length) return null
  return <p class="soft above-8">{say('tightening.without_sheet', { joints: open.map(({ name, code }) => name || code).join(', ') })}</p>
}

/** A sheet that the form can show, whatever else may be wrong with it. */
function withLists(sheet: TighteningSheet): TighteningSheet {
  if (!Array.isArray(sheet.stages) || !Array.isArray(sheet.holds)) throw new Error('no lists')
  return { ...sheet, thread: { ...sheet.thread }, friction: { ...sheet.friction } }
}
