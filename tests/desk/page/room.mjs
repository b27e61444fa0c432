// An invented black room whose light is known in closed form: E = I cos(a) / d^2 for a point source, and nothing
// comes back from the walls but a thousandth.
export const room = `# A black room: light is what the lamps send straight.
title = "Black room (invented)"

[place]
room = { width = 6, depth = 6, height = 4 }
surfaces = { walls = 0, floor = 0, ceiling = 0 }

[day]
dark = true

[[mark]]
name = "A"
at = [3, 1]
facing = 90

[[lamp]]
name = "over"   # straight above the meter: 400 cd at 2 m give 100 lx
shape = "hard"
at = [3, 3, 3]
aim = [3, 3, 1]
size = 0.02
beam = 170
output = "400 cd"
kelvin = 5600

[[lamp]]
name = "aslant" # 45 degrees off: 800 cd at 2.828 m give 800 / 8 * cos 45 = 70.7 lx
shape = "hard"
at = [1, 3, 3]
aim = [3, 3, 1]
size = 0.02
beam = 100
output = "800 cd"
kelvin = 3200

[[board]]
name = "white"
at = [5, 5, 1.2]
facing = "A"

[[camera]]
name = "wide"
at = [3, 5.5, 1.6]
look_at = "A"
lens = 25
t_stop = 2.8

[[meter]]
name = "table"
at = [3, 3, 1]
facing = "up"

[[setup]]
name = "1 wide"
camera = "wide"

[[setup]]
name = "2 aslant only"
camera = "wide"
change.lamp.over.on = false

[[option]]
name = "down a stop"
change.lamp.over.level = "-1 stop"
`;
