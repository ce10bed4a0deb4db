/** The trade's words, each with its meaning; docs/glossary.md has the sources. */
export const glossary = {
  bifolium: 'A sheet folded once: two leaves that belong together, four pages.',
  'centre spread':
    'The two pages in the middle of a gathering: the only spread on one side of one sheet, so a picture across it is unbroken.',
  gathering: 'Sheets folded together, one inside the other, and sewn as one.',
  interleaf:
    'A translucent leaf between two pages. Folded round part of a gathering, it comes out again at the mirrored place.',
  recto: 'A right-hand page.',
  verso: 'A left-hand page.',
  spread: 'Two pages that face each other.',
};
