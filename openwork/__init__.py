"""openwork draws, weighs and compares pierced chainrings before CAD.

Units inside are mm, gram, newton, MPa (N/mm2) and radian; degrees only at the door.
Axes of every drawing, seen from the front of the ring::

              y
              |        . tooth band
         .----+----.  '
       .'  web|     '.
      /   .---+---.   \\
     |   / bore    \\   |
     |  |     o-----|--(gap)--- x    a bolt and a tooth gap lie on +x
     |   \\         /   |             angles run counter-clockwise from +x
      \\   '-------'   /
       '.           .'
         '---------'
"""
