"""What writes the documents: pages run as sessions, references and pictures made of the program."""
