# Each line is a formula; faults.out holds what is said about it. Names: see tests/unit/formula/compiled.h.

# dimensions
12.5 mm + 2 bar
spread + 3
spread - load
spread + strength * gap
strength > 3 mm
spread = 3
if covered then spread else strength
[3.5 mm, 2 N]
[3,5 mm]
sin(spread)
sin(30)
cos(spread / gap)
max(spread, 3)
round(spread, 1)
spread^n
spread^0.5
spread^(2 mm)
sqrt(spread)
2^heights
tilt + 1
20 degC + 30 degC
2 * 20 degC
-(5 degC)
spread_to_centres(0, 0, 1 mm, 2 N, 3, 4 mm)
cut_down(8 mm, 1 mm, 3.5 mm, 0.5 mm, 17)
stock_choice(heights, load, 3.5 mm)
((spread^100)^2)
spread^100 * spread

# kinds
covered + 1
not spread
spread and covered
if spread then 1 else 2
if covered then 1 else true
if covered then heights else spread
heights > 3 mm
heights = heights
covered < open
covered = n
[covered, open]
[heights, 3 mm]
min(3)
max(heights, 3 mm, gap)
sum(spread)
is_nothing(covered)
count(3)
max(1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,[])
nothing = spread
nothing < nothing

# names
spred
Spread + 1 mm
foo(1) + foo(2) + bar
spread(2)
min
heigths - hieghts
pi(2)
mni(heights)
mm + 2
squrt(4)
2 spread
2 h
10 N/h
spread + 2 h > 10 N/h
3 mmm
3 flurbs
1e308 m
3 mm/foo
5 degC/min

# counts
round(1, 2, 3)
min()
sin()
at(heights)
pi()
[]

# signs of other notations
n == 3
n != 3
n => 3
covered && open
covered || open
!covered
n ** 2
n²
√n
{n}
max(1; 2)
"spread"
n ? 1 : 2
n % 2
n := 3
π + $

# reading
(empty)
+ 3
3 +
3 * * 4
3 + / 4
(3 + 4
3 + 4)
3 + 4) * (foo
)))
covered not not open
max(3, 4
max(3, 4]
[3, 4)
max(3 4)
max(3,, 4)
max(3, )
(3, 4)
3, 4
1 000
1.5.2
1.
1e999
1234567890123456789012345678901234567890123456789012345678901234567890
n 3
n (3)
(n) (3)
covered not open
if covered 1 else 2
if covered then 1
if covered else 1
if then 1 else 2
then 1
2 * if covered then 1 else 2
n = not covered
1 < n < 3
n = 3 = covered
n^2^3
spread^2 mm
3 mm ^ 2
(3 mm ^ 2

# limits and values
n / 0
1 / (2 - 2)
sqrt(-4)
ln(0)
at([1, 2], 3)
stock_choice([3.5 mm, 0 mm], 4 mm, 3.5 mm)
1e200 * 1e200
10^400
(-8)^(1/3)
0^-1
nothing > 3
((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((1))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))

# several at once, each once
spred + foo(1, gap / 0) * sin(3 mm) + (1 + covered
if spred > 3 then load + gap else min(1, true)

# names of its own
let
let 3 = 4 then 5
let r 3 then r
let r = 3
let r = 3 then 4
let spread = 3 mm then spread
let sin = 3 then 1
let r = 1 then let r = 2 then r
let r = 3 mm then r + 2 N
let r = 3 mm + 2 N then r + 1
2 * let r = 3 then r
let m = 3 then 2 m + m
let r = r then r
(let r = 1 then r) + r
let a = n+n+n+n then let b = a+a+a+a then let c = b+b+b+b then let e = c+c+c+c then let f = e+e+e+e then f+f+f+f
