/** Put the server's SVG on the screen as it is. */

/** How a drawing takes its room: all of it, or its width, as high as it then is. */
export type Fit = 'page' | 'width';

// Constructed, not written into the page: the desk's pages allow no style sheets of other make.
const FITS: Record<Fit, CSSStyleSheet> = {
  page: makeSheet('svg { display: block; width: 100%; height: 100%; }'),
  width: makeSheet('svg { display: block; width: 100%; height: auto; }'),
};

function makeSheet(text: string): CSSStyleSheet {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(text);
  return sheet;
}

/**
 * Show an SVG in a shadow tree of `host`, so that two drawings' ids cannot mix. Gives false where
 * the text is no SVG.
 */
export function putDrawing(host: HTMLElement, text: string, fit: Fit = 'page'): boolean {
  const drawing = new DOMParser().parseFromString(text, 'image/svg+xml').documentElement;
  if (drawing.localName !== 'svg') return false;
  const root = host.shadowRoot ?? host.attachShadow({ mode: 'open' });
  root.adoptedStyleSheets = [FITS[fit]];
  root.replaceChildren(document.importNode(drawing, true));
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
