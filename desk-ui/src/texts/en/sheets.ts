/** Words of the room. */
export const sheets = {};
