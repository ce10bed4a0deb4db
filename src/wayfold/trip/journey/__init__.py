"""The journey as numbers and times: where one was, how one went on, where one slept."""
