/** Words of the room where the book is read. */
export const read = {
  empty: 'This book has no pages yet.',
  contents: 'Contents',
  lift: 'Lift the leaf',
  layDown: 'Lay the leaf down',
};
