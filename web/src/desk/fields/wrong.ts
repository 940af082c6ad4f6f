import { deskTexts } from '$lib/i18n/desk';

/** Wrong is what is wrong with a field, by its name in the order. */
export interface Wrong {
  field: string;
  says: string;
}

/** Control is what the browser looks at by itself. */
export type Control = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

const isControl = (one: Element): one is Control =>
  one instanceof HTMLInputElement || one instanceof HTMLSelectElement || one instanceof HTMLTextAreaElement;

/** controlsOf are the fields of a form, in order. */
export const controlsOf = (form: HTMLFormElement): Control[] => [...form.elements].filter(isControl);

/** wrongIn says in words what is wrong with a field by its own rules, if anything is. */
export function wrongIn(control: Control): string | undefined {
  const { validity } = control;
  // Blanks alone fill nothing in, though a browser takes them.
  const blank = control.required && control.value !== '' && control.value.trim() === '';
  if (!control.willValidate || (validity.valid && !blank)) return undefined;
  const w = deskTexts.wrong;
  const input = control instanceof HTMLInputElement ? control : undefined;
  if (validity.valueMissing || blank) return control instanceof HTMLSelectElement ? w.choose : w.missing;
  if (validity.badInput) return w.number;
  if (validity.rangeUnderflow) return w.atLeast(input?.min ?? '');
  if (validity.rangeOverflow) return w.atMost(input?.max ?? '');
  if (validity.stepMismatch) return w.step(input?.step || '1');
  if (validity.patternMismatch) return input?.title || w.pattern;
  return control.validationMessage || w.pattern;
}
