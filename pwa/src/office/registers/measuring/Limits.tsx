import { useState } from 'preact/hooks'
import type { Limit, Size } from '../../../trade/measuring/limits.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import { EmptyNotice, FaultNotice } from '../../frame/notices.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useGet } from '../../frame/useGet.ts'
import { address } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import { useProcedures } from '../useProcedures.ts'
import { LimitForm } from './LimitForm.tsx'
import { LimitTable } from './LimitTable.tsx'
import { newLimit } from './limit_fields.ts'
import type { LimitsShown } from './shapes.ts'
import { SizeForm } from './SizeForm.tsx'
import { newSize } from './size_fields.ts'
import './limits.css'

/** Limits and sizes of one engine type, procedure by procedure, each with the source it was taken from. */
export function Limits({ type }: { type: EngineType }) {
  const { data, error, reload } = useGet<LimitsShown>(`/api/engine-types/${type.id}/limits`)
  const procedures = useProcedures()
  const [limit, setLimit] = useState<Limit | null>(null)
  const [size, setSize] = useState<Size | null>(null)
  const codes = [...new Set([...(data?.limits ?? []), ...(data?.sizes ?? [])].map(({ procedure }) => procedure))]
  const onSaved = () => {
    setLimit(null)
    setSize(null)
    reload()
  }
  const acts = (
    <Acts
      type={type}
      canAdd={isManager.value && procedures.length > 0}
      addSize={() => setSize(newSize(type.id, procedures))}
      addLimit={() => setLimit(newLimit(type.id, procedures))}
    />
  )
  return (
    <section class="page limits-page" aria-labelledby="limits-title">
      <PageHead id="limits-title" title={say('limits.title', { type: type.name })} acts={acts} />
      <p class="page-words">{say('limits.intro')}</p>
      <FaultNotice>{error?.message}</FaultNotice>
      {data && codes.length === 0 && <EmptyNotice>{say('limits.none_yet')}</EmptyNotice>}
      {codes.map((code) => (
        <LimitTable
          key={code}
          type={type}
          code={code}
          procedure={procedures.find((procedure) => procedure.code === code)}
          limits={data!.limits.filter(({ procedure }) => procedure === code)}
          sizes={data!.sizes.filter(({ procedure }) => procedure === code)}
          onChangeLimit={setLimit}
          onChangeSize={setSize}
        />
      ))}
      {limit && <LimitForm type={type} procedures={procedures} start={limit} onSaved={onSaved} close={() => setLimit(null)} />}
      {size && <SizeForm type={type} procedures={procedures} start={size} onSaved={onSaved} close={() => setSize(null)} />}
    </section>
  )
}

function Acts({ type, canAdd, addSize, addLimit }: { type: EngineType; canAdd: boolean; addSize: () => void; addLimit: () => void }) {
  return (
    <>
      <a class="act" href={address(['engine-types', type.id])}>
        {say('registers.the_drawing')}
      </a>
      {canAdd && (
        <>
          <button type="button" onClick={addSize}>
            {say('limits.add_size')}
          </button>
          <button type="button" class="main-act" onClick={addLimit}>
            {say('limits.add_limit')}
          </button>
        </>
      )}
    </>
  )
}
