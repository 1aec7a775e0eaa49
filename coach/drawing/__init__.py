"""What is drawn from the shapes for the studio: lines to trace, a picture for the wall, studies in few values."""
