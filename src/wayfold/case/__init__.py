"""The text block becomes boards, cloth, spine and pocket."""
