/**
 * keepFocus watches a part of the page that the live feed redraws. When the thing
 * with the focus goes, because what it was about is done, the focus goes to the
 * nearest part around it that is still there and can take it, instead of to the
 * top of the page. Give it to {@attach}.
 */
export function keepFocus(node: HTMLElement): () => void {
  let around: HTMLElement[] = [];
  const came = (event: FocusEvent) => {
    around = [];
    for (let at = event.target as HTMLElement | null; at && at !== node.parentElement; at = at.parentElement) {
      around.push(at);
    }
  };
  const left = (event: FocusEvent) => {
    // Going elsewhere on purpose; a vanished element leaves without a target.
    if (event.relatedTarget) around = [];
  };
  const changed = new MutationObserver(() => {
    if (around.length === 0 || around[0]!.isConnected || document.activeElement !== document.body) return;
    const next = around.find((at) => at.isConnected && at.tabIndex >= -1 && at.hasAttribute('tabindex'));
    around = [];
    next?.focus({ preventScroll: true });
  });
  node.addEventListener('focusin', came);
  node.addEventListener('focusout', left);
  changed.observe(node, { childList: true, subtree: true });
  return () => {
    node.removeEventListener('focusin', came);
    node.removeEventListener('focusout', left);
    changed.disconnect();
  };
}
