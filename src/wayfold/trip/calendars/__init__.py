"""Calendar files (iCalendar, RFC 5545): the events of a journey, and what they book."""
