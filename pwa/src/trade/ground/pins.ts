// How many digits a PIN has, by role.
import table from '../../../../server/witnessmark/trade/data/pins.json'

export const PIN_DIGITS: Record<'technician' | 'manager', { least: number; most: number }> = table.digits
