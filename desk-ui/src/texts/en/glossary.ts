/** The trade's words, each with its meaning; docs/glossary.md has the sources. */
export const glossary = {
  bifolium: 'A sheet folded once: two leaves that belong together, four pages.',
  'centre spread':
    'The two pages in the middle of a gathering: the only spread on one side of one sheet, so a picture across it is unbroken.',
  conjugate: 'The other half of the same folded sheet.',
  gathering: 'Sheets folded together, one inside the other, and sewn as one.',
  interleaf:
    'A translucent leaf between two pages. Folded round part of a gathering, it comes out again at the mirrored place.',
  hero: 'One picture across two facing pages.',
  recto: 'A right-hand page.',
  verso: 'A left-hand page.',
  spread: 'Two pages that face each other.',
  board: 'The stiff sheet in each cover of the case.',
  caliper: 'The thickness of one sheet of paper, in micrometres.',
  case: 'The cover made apart from the text block: two boards and a spine piece under one cloth.',
  'cutting plan':
    'How pieces are cut from a sheet of their material: where each lies, and the order of the cuts.',
  endpaper:
    'The folded leaves at both ends of the text block: one half is pasted to the board, the other is free.',
  grain:
    'The direction in which the fibres lie. Paper folds cleanly along it and swells across it, so it runs from head to tail.',
  gusset: 'Two folded panels that let the pocket open as deep as its contents.',
  joint: 'The hollow between board and spine in which the cover turns.',
  kettle: 'The hole next to head or tail, and the knot made there to the gathering below.',
  'link stitch':
    'Sewing without tapes: at each pair of holes the thread passes under the stitch of the gathering below.',
  mitre: 'The slanting cut at a corner of the cloth, so that turn-ins meet without lumps.',
  mull: 'Open-weave cloth glued over the spine and standing out at both sides: it joins block and case.',
  pastedown: 'The half of the endpaper that is pasted to the board.',
  squares: 'What the boards stand out beyond the leaves at head, tail and fore-edge.',
  swell: 'The growth of the spine by the thread and folds in it.',
  'turn-in': 'The edge of the cover cloth that is folded round the board and glued down.',
};
