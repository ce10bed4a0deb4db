/** Words of the room. */
export const pictures = {};
