/**
 * Driven is a page of a browser that a person uses: what is looked at is what the browser shows, and pressing and
 * typing are real input. Firefox and WebKit are driven in this one way, each by the protocol that it speaks.
 */
export abstract class Driven {
  /** open goes to an address and waits for the page to be loaded. */
  abstract open(address: string): Promise<void>;
  /** size makes the part of the window that shows the page so large; a browser may refuse to be very narrow. */
  abstract size(width: number, height: number): Promise<void>;
  /** keys types a text, or presses one of the named keys, into what has the focus. */
  abstract keys(text: string): Promise<void>;
  abstract key(named: 'Tab' | 'Enter' | 'Escape'): Promise<void>;
  abstract back(): Promise<void>;
  abstract picture(): Promise<Buffer>;
  abstract close(): Promise<void>;
  protected abstract clickAt(x: number, y: number): Promise<void>;
  /** look evaluates a function in the page; it sees nothing but its arguments. */
  abstract look<A extends unknown[], T>(inPage: (...args: A) => T, ...args: A): Promise<T>;

  /** until asks again and again, for at most 15 s, and tells the last answer that was not right. */
  async until<T>(what: string, ask: () => Promise<T>, right: (answer: T) => boolean = Boolean): Promise<T> {
    const end = Date.now() + 15_000;
    let last: unknown;
    for (;;) {
      try {
        const answer = await ask();
        if (right(answer)) return answer;
        last = answer;
      } catch (failed) {
        last = failed; // the page may be on its way to another address
      }
      if (Date.now() > end) throw new Error(`not within 15 s: ${what}; the last was ${String(last)}`);
      await new Promise((done) => setTimeout(done, 100));
    }
  }

  /** text is what the page shows, or a part of it that has this role and name. */
  text(region?: string): Promise<string> {
    return this.look((name) => {
      const parts = [...document.querySelectorAll<HTMLElement>('section, [role="region"], dialog[open], article')];
      const named = (part: HTMLElement) =>
        part.getAttribute('aria-label') ??
        document.getElementById(part.getAttribute('aria-labelledby') ?? '')?.textContent?.trim();
      const part = name === null ? document.body : parts.find((each) => named(each) === name);
      return (part?.innerText ?? '').replace(/\s+/g, ' ');
    }, region ?? null);
  }

  /** sees waits until the page, or a part of it, shows a text. */
  async sees(text: string, region?: string): Promise<void> {
    await this.until(
      `"${text}"${region ? ` in ${region}` : ''}`,
      () => this.text(region),
      (all) => all.includes(text),
    );
  }

  async seesNot(text: string): Promise<void> {
    await this.until(
      `no "${text}"`,
      () => this.text(),
      (all) => !all.includes(text),
    );
  }

  /** press presses the button, link, box or field of this name that is on top, once it can be pressed. */
  async press(name: string): Promise<void> {
    const at = await this.until(`${name} can be pressed`, () => this.look(whereToPress, name));
    await this.clickAt(at!.x, at!.y);
  }

  /** write puts a text into the field of this name in place of what stood there. */
  async write(field: string, text: string): Promise<void> {
    await this.press(field);
    await this.look(() => (document.activeElement as HTMLInputElement).select());
    await this.keys(text);
  }

  /** choose takes an option of a list of choices; no driver shows the list's menu, so no key or pointer does it. */
  async choose(field: string, option: string): Promise<void> {
    await this.until(`${option} can be chosen`, () =>
      this.look(
        (label, wanted) => {
          const lists = [...document.querySelectorAll<HTMLSelectElement>('dialog[open] select, select')];
          const list = lists.find((each) => each.labels[0]?.textContent.trim() === label);
          const found = [...(list?.options ?? [])].find((each) => each.textContent.trim() === wanted);
          if (!list || !found) return false;
          list.value = found.value;
          list.dispatchEvent(new Event('input', { bubbles: true }));
          list.dispatchEvent(new Event('change', { bubbles: true }));
          return true;
        },
        field,
        option,
      ),
    );
  }
}

/** whereToPress is the middle of what has this name, once it is shown and nothing lies over it. */
function whereToPress(name: string): { x: number; y: number } | null {
  const on = document.querySelector('dialog[open]') ?? document;
  const spoken = (each: Element) => {
    const heard = each.cloneNode(true) as Element;
    for (const hidden of heard.querySelectorAll('[aria-hidden="true"]')) hidden.remove();
    return heard.textContent.replace(/\s+/g, ' ').trim();
  };
  const named = (each: HTMLElement) =>
    each.getAttribute('aria-label') ?? spoken((each as HTMLInputElement).labels?.[0] ?? each);
  const all = [...on.querySelectorAll<HTMLElement>('button, a[href], input, select, textarea')].filter(
    (each) => !(each as HTMLButtonElement).disabled && each.getClientRects().length > 0,
  );
  const found = all.find((each) => named(each) === name) ?? all.find((each) => named(each).startsWith(name));
  if (!found) return null;
  found.scrollIntoView({ block: 'center' });
  const box = found.getBoundingClientRect();
  const [x, y] = [Math.round(box.x + box.width / 2), Math.round(box.y + box.height / 2)];
  const top = document.elementFromPoint(x, y);
  if (!top) return null;
  const label = (found as HTMLInputElement).labels?.[0];
  return found.contains(top) || label?.contains(top) ? { x, y } : null;
}
