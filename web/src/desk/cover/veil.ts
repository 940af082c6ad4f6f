/** What stands where a reason would: no code of the contract, so that it is shown as the word itself. */
export const covered = 'covered';

/** Fields that hold words about somebody, whatever they are part of. */
const gone = new Set(['display_name', 'say_as', 'birth_date', 'text', 'text_id']);

type Fields = Record<string, unknown>;

/** Names of people; meets, divisions, classes and things have names too. */
const isOfPerson = (of: Fields): boolean => 'entrant' in of || 'photo' in of;

/** The reason of what was ruled, protested or taken out is told; that of a task only prefills a form. */
const isTold = (of: Fields): boolean => ('by' in of && 'at' in of) || 'out_of_service' in of;

/**
 * veil is what the server says without what a projector must not show: names and nicknames, so that the start number
 * stands for them, birth dates, reasons and free texts. The list of people has nothing else, so it is empty.
 */
export function veil<T>(value: T): T {
  if (Array.isArray(value)) return value.map(veil) as T;
  if (typeof value !== 'object' || value === null) return value;
  const of = value as Fields;
  const out: Fields = {};
  for (const [key, field] of Object.entries(of)) {
    if (gone.has(key) && typeof field === 'string') continue;
    if (key === 'name' && isOfPerson(of)) continue;
    if (key === 'people' && Array.isArray(field)) out[key] = [];
    else if (key === 'reason' && typeof field === 'string') {
      if (isTold(of)) out[key] = covered;
    } else if (key === 'paused_because' || key === 'rerun_asked') out[key] = covered;
    else out[key] = veil(field);
  }
  return out as T;
}
