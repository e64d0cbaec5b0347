mod nothing {}
