import { tooOld, type Kept, type Refused } from './order';

/**
 * How an order changes. Each step gets the order as it is now, whichever page of the
 * phone changed it last, and gives what it is from then on; undefined is gone.
 */
export type Step = (now: Kept) => Kept | undefined;

/** begun is for an order that is about to be sent. */
export const begun: Step = (order) => (order.refused ? order : { ...order, tries: (order.tries ?? 0) + 1 });

/** aged ends an order that has waited too long: one that the server may have is taken back. */
export const aged =
  (time: number): Step =>
  (order) => {
    if (order.refused || order.ends || !tooOld(order, time)) return order;
    return order.tries ? { ...order, ends: { why: 'too-old' } } : { ...order, refused: tooLate };
  };

/** takenBack is what the volunteer wants: an order that no page has begun to send goes at once. */
export const takenBack: Step = (order) => {
  if (order.refused) return order;
  return order.tries ? { ...order, ends: { why: 'taken-back' } } : undefined;
};

/** carriedOut is for a receipt: who wanted the order back has to read it. */
export const carriedOut: Step = (order) =>
  order.ends?.why === 'taken-back' ? { ...order, refused: doneAlready } : undefined;

/**
 * turnedDown is for a no of the server, to a try or to taking the order back. After
 * another try, which may still be on its way, the no is true only once the order is
 * taken back.
 */
export const turnedDown =
  (no: Refused, withdrew: boolean): Step =>
  (order) => {
    const { ends } = order;
    if (order.refused) return order;
    if (!withdrew) {
      if (ends) return order; // taken back meanwhile: what it ends in is asked next
      return (order.tries ?? 0) > 1 ? { ...order, ends: { why: 'refused', no } } : { ...order, refused: no };
    }
    if (ends?.why === 'refused') return { ...order, refused: ends.no };
    if (no.code !== 'order-withdrawn') return { ...order, refused: { ...no, kind: 'unknown' } };
    return ends?.why === 'too-old' ? { ...order, refused: tooLate } : undefined;
  };

const tooLate: Refused = { code: 'too-old', says: '', kind: 'too-old' };
/** It was carried out, though it was to be taken back. */
export const doneAlready: Refused = { code: 'done', says: '', kind: 'done' };
