# led.py BARWRIGHT DATA - a learner who works every task of one kind: reads the numbers from the page,
# works them out here (mantle = n pi d h), fills in what is left to find. Prints how many steps each
# task left to find.
import math
import re
import subprocess
import sys

barwright, data = sys.argv[1:]
COMMAND = [barwright, '--plain', '--words', '--data', data, '--courses', 'tests/text/drill/small',
           'drill', 'mantle']
program = subprocess.Popen(COMMAND, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
                           bufsize=0)
FIELD = r'(Your answer|around|one) \(in mm²?\)'
GIVEN = (r'mantle of (\d+)\s+cylinders,\s+([\d.]+)\s+mm\s+across\s+and\s+([\d.]+)\s+mm\s+high')


def until(pattern):
    seen = ''
    while not re.search(pattern, seen):
        one = program.stdout.read(1)
        if not one:
            sys.exit('the program ended after:\n' + seen)
        seen += one
    return seen


def say(line):
    program.stdin.write(line + '\n')
    program.stdin.flush()


until(r'a worked example\)[\s\S]*Go on\?[\s\S]*> $')
say('led')
left = []
for task in range(6):
    page = until(FIELD + r'[\s\S]*?> $')
    n, across, high = (float(x) for x in re.search(GIVEN, page).groups())
    left.append(page.count('= ?'))
    while 'Go on?' not in page:
        field = re.findall(FIELD, page)[-1]
        value = {'around': math.pi * across, 'one': math.pi * across * high,
                 'Your answer': n * math.pi * across * high}[field]
        # The third task goes wrong in a step on the way, which does not count.
        say('1' if field == 'around' and task == 2 else '%.2f' % value)
        page = until(r'(' + FIELD + r'|Go on\?)[\s\S]*?> $')
    say('next' if task < 5 else 'stop')
program.wait()
print(*left)
