"""How near is the same: every tolerance of the library, by name, with its unit and its reason."""

SAME_SETTING = 0.05  # degrees: no hand sets a bevel nearer, so settings closer than this are one; so near to square is square
SAME_ANGLE = 0.005  # degrees: two angles closer than this are written alike to 0.01°, the finest that is printed
SAME_GAP = 0.005  # mm: two gaps closer than this are written alike
SAME_LEAN = 1e-6  # degrees: two leans that were worked out in two ways are one
ON_PLANE = 1e-6  # mm: a point this close to a plane lies in it
ROUNDING = 1e-9  # degrees, mm or pixels: less than this is nothing but the rounding of the arithmetic
PARALLEL = 1e-12  # volume that three unit normals span: less than this, and their planes share no single point
