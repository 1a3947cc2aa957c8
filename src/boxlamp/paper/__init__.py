"""What goes on paper or over the telephone: the call sheet, the summary, the open exports."""
