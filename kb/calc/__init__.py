"""Pure arithmetic in crank degrees, before top dead centre positive; no input or output."""
