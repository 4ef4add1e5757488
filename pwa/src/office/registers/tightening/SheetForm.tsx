import { useMemo, useRef, useState } from 'preact/hooks'
import type { FieldFault } from '../../../trade/ground/errors.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import type { PreloadWords } from '../../../trade/tightening/preload_estimate.ts'
import type { TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { ApiError, post } from '../../frame/api.ts'
import { go } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { useFaults } from '../../frame/useFaults.ts'
import { faultsAt } from '../form/faults.ts'
import { FaultList, FormAside } from '../form/FormAside.tsx'
import { BoltFields } from './BoltFields.tsx'
import { drawnJoint, faultsToShow, isRead, preloadOf, readForm, touched } from './form.ts'
import { HoldLines } from './HoldLines.tsx'
import { OrderPreview } from './OrderPreview.tsx'
import { PreloadView } from './PreloadView.tsx'
import type { SheetsShown } from './shapes.ts'
import { SourceFields } from './SourceFields.tsx'
import { StageLines } from './StageLines.tsx'
import { ToolsFor } from './ToolsFor.tsx'
import { useProposal } from './useProposal.ts'

interface Props {
  type: EngineType
  procedures: Procedure[]
  tools: SheetsShown['tools']
  start: TighteningSheet
  onSaved: (id: string) => void
}

/** Adds or changes a tightening sheet. Beside the fields: the joint with the order of one stage, and the phone's view. */
export function SheetForm({ type, procedures, tools, start, onSaved }: Props) {
  const { sheet, put, allFaults, faults, checked, message, preload, tried, save } = useSheet(type, start, onSaved)
  const proposal = useProposal(type, sheet.joint)
  const [at, show] = useState(0)
  const fasteners = drawnJoint(type, sheet)?.fasteners ?? []
  const stage = sheet.stages[at] ?? sheet.stages[0]!
  const touch = (label: string) => {
    const order = touched(stage.order, label)
    put({ stages: sheet.stages.map((other) => (other === stage ? { ...stage, order, proposed: false } : other)) })
  }
  const shared = { sheet, put, wrong: (field: string) => faultsAt(faults, field) }
  return (
    <section class="page type-form-page" aria-labelledby="sheet-form-title">
      <header class="page-head along wrapped">
        <h1 id="sheet-form-title">
          {start.id ? say('registers.edit_name', { name: start.name }) : say('tightening.new_sheet_for', { type: type.name })}
        </h1>
        {start.id && <p class="soft">{say('tightening.runs_unchanged')}</p>}
      </header>
      <form noValidate class="type-form parted sheet-form" onSubmit={save}>
        <div class="type-form-fields in-grid">
          <BoltFields {...shared} type={type} />
          <StageLines
            stages={sheet.stages}
            put={(stages) => put({ stages })}
            faults={faults}
            fasteners={fasteners}
            proposal={proposal}
            at={at}
            show={show}
          />
          <HoldLines type={type} procedures={procedures} holds={sheet.holds} put={(holds) => put({ holds })} faults={faults} />
          <SourceFields {...shared} changed={Boolean(start.id)} />
        </div>
        <FormAside
          name={say('tightening.the_joint')}
          status={standing(faults, allFaults, checked)}
          fault={message}
          list={tried && <FaultList faults={allFaults} />}
          onCancel={() => go(['engine-types', type.id, 'tightening', ...(start.id ? [start.id] : [])])}
        >
          <OrderPreview sheet={sheet} at={at} show={show} fasteners={fasteners} touch={touch} />
          {isRead(stage) && <ToolsFor stage={stage} tools={tools} />}
          <PreloadView estimate={preload} />
        </FormAside>
      </form>
    </section>
  )
}

/** The sheet while it is typed, its faults and how it is saved. */
function useSheet(type: EngineType, start: TighteningSheet, onSaved: (id: string) => void) {
  const [sheet, setSheet] = useState(start)
  const [tried, setTried] = useState(false)
  const [refusal, setRefusal] = useState<FieldFault | null>(null)
  const put = (changes: Partial<TighteningSheet>) => {
    setRefusal(null)
    setSheet((before) => ({ ...before, ...changes }))
  }
  const { value, known } = useMemo(() => readForm(sheet, type), [sheet, type])
  const { faults: fieldFaults, checked, error, checkNow } = useFaults('tightening_sheet', value)
  const allFaults = [...known, ...fieldFaults]
  const preload = useRef<PreloadWords | null>(null)
  // Until the server has checked what is typed, the last estimate stays on show.
  if (checked) preload.current = preloadOf(sheet, allFaults)
  const faults = [...faultsToShow(allFaults, sheet, type, tried), ...(refusal ? [refusal] : [])]
  const save = async (event: Event) => {
    event.preventDefault()
    setTried(true)
    if (known.length || (await checkNow()).length) return
    try {
      const answer = await post<{ sheet: TighteningSheet }>(`/api/engine-types/${type.id}/tightening`, { sheet })
      onSaved(answer.sheet.id)
    } catch (reason) {
      // What only the server knows, such as the tools of the register, is shown at the field it names.
      const where = reason instanceof ApiError ? reason.where.replace(/^sheet\./, '') : ''
      setRefusal({ where, message: reason instanceof ApiError ? reason.message : String(reason) })
    }
  }
  return { sheet, put, allFaults, faults, checked, message: refusal?.message ?? error, preload: preload.current, tried, save }
}

/** The state of the sheet in one sentence. */
function standing(shown: FieldFault[], all: FieldFault[], checked: boolean): string {
  if (shown.length) return say('registers.faults_beside_fields', { count: shown.length })
  if (all.length) return say('tightening.not_complete')
  return checked ? say('registers.no_faults') : say('registers.checking')
}
