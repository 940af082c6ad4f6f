import type { Schema } from '$lib/api';

type StageBody = Schema['StageBody'];

/** FormsDraft is what only some forms of competition have, as the form holds it. */
export interface FormsDraft {
  plate: boolean;
  /** Two legs with the benches changed. */
  legs: boolean;
  lane_design: boolean;
  /** Whole numbers as they are typed, "10, 8, 6"; empty for the usual ones. */
  place_points: string;
  heats: number | null;
  heat_order: NonNullable<StageBody['heat_order']>;
  advance: number | null;
  next_best: number | null;
  b_final: boolean;
}

export const usualForms: FormsDraft = {
  plate: false,
  legs: false,
  lane_design: false,
  place_points: '',
  heats: null,
  heat_order: 'zigzag',
  advance: 1,
  next_best: 1,
  b_final: false,
};

export const formsOf = (s: StageBody): FormsDraft => ({
  plate: s.plate ?? false,
  legs: s.legs === 2,
  lane_design: s.lane_design ?? false,
  place_points: (s.place_points ?? []).join(', '),
  heats: s.heats || null,
  heat_order: s.heat_order ?? 'zigzag',
  advance: s.advance || 1,
  next_best: s.next_best ?? 0,
  b_final: s.b_final ?? false,
});

/** numbersOf reads whole numbers with anything between them. */
const numbersOf = (text: string): number[] => (text.match(/\d+/g) ?? []).map(Number);

/** What a draft gives of it, for the forms that have it. */
export const knockoutBody = (s: FormsDraft) => ({ ...(s.plate && { plate: true }), ...(s.legs && { legs: 2 }) });
export const designBody = (s: FormsDraft) => ({ ...(s.lane_design && { lane_design: true }) });
export const pointsBody = (s: FormsDraft) => ({
  ...(s.place_points.trim() && { place_points: numbersOf(s.place_points) }),
});
export const heatsBody = (s: FormsDraft) => ({
  heat_order: s.heat_order,
  advance: s.advance ?? 0,
  b_final: s.b_final,
  ...(s.heats && { heats: s.heats }),
  ...(s.next_best && { next_best: s.next_best }),
});
