/** A text as one glances at it in a row of days: without its notes, which the page has at its foot. */
export function withoutNotes(markdown: string): string {
  return markdown
    .replace(/^\[\^[^\]\n]+\]:.*(?:\n(?!\n).+)*/gm, '')
    .replace(/\[\^[^\]\n]+\]/g, '')
    .replace(/\n{3,}/g, '\n\n')
    .trim();
}
