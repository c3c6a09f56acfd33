"""One file a form of report: `render(audit) -> str`. A renderer only shows; it decides nothing."""
