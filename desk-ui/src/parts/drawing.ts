/** Put the server's SVG on the screen as it is. */

const FILL = 'svg { display: block; width: 100%; height: 100%; }';

/**
 * Show an SVG in a shadow tree of `host`, so that two drawings' ids cannot mix. Gives false where
 * the text is no SVG.
 */
export function putDrawing(host: HTMLElement, text: string): boolean {
  const drawing = new DOMParser().parseFromString(text, 'image/svg+xml').documentElement;
  if (drawing.localName !== 'svg') return false;
  const style = document.createElement('style');
  style.textContent = FILL;
  const root = host.shadowRoot ?? host.attachShadow({ mode: 'open' });
  root.replaceChildren(style, document.importNode(drawing, true));
  return true;
}

/** Wait until the pictures in a shown drawing are there; one that fails is not waited for. */
export async function waitForPictures(host: HTMLElement): Promise<void> {
  const pictures = [...(host.shadowRoot?.querySelectorAll('image') ?? [])];
  await Promise.allSettled(
    pictures.map((picture) => {
      // Pictures of drawings cannot be waited for in every browser; a twin of the same address can.
      const twin = new Image();
      twin.src = picture.href.baseVal;
      return twin.decode();
    }),
  );
}
