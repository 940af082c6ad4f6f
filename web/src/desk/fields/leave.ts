/**
 * askBeforeLeaving has whoever goes elsewhere asked first while something is not given yet: by a link, a step back,
 * or shutting the tab. It gives the function that ends it; call it in an effect.
 */
export function askBeforeLeaving(unsaved: () => boolean, question: string): () => void {
  const here = location.href;
  const stays = () => unsaved() && !confirm(question);
  const click = (event: MouseEvent) => {
    const link = event.target instanceof Element ? event.target.closest('a[href]') : null;
    if (!(link instanceof HTMLAnchorElement) || link.target || link.hasAttribute('download')) return;
    if (event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    if (!stays()) return;
    event.preventDefault();
    event.stopPropagation();
  };
  const back = (event: PopStateEvent) => {
    if (location.href === here || !stays()) return;
    event.stopImmediatePropagation();
    history.pushState(null, '', here);
  };
  const unload = (event: BeforeUnloadEvent) => {
    if (unsaved()) event.preventDefault();
  };
  // Before the page's own followers of links and steps back.
  document.addEventListener('click', click, true);
  addEventListener('popstate', back, true);
  addEventListener('beforeunload', unload);
  return () => {
    document.removeEventListener('click', click, true);
    removeEventListener('popstate', back, true);
    removeEventListener('beforeunload', unload);
  };
}
