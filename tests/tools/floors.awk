# awk -f floors.awk src/FLOORS FILES... - includes go down, and each library enters through its door.
# Prints faults as compilers do; exit status 1 if there are any.
function folder(path) {
	sub(/^include\/barwright\//, "", path)
	sub(/^src\//, "", path)
	return path ~ /\// ? substr(path, 1, index(path, "/") - 1) : ""
}
function fault(words) {
	printf "%s:%d: error: %s [floor]\n", FILENAME, FNR, words
	faults++
}
FILENAME ~ /FLOORS$/ {
	if ($1 == "floor") { level++; for (i = 2; i <= NF; i++) floor[$i] = level }
	if ($1 == "door") for (i = 3; i <= NF; i++) door[$2, $i] = 1
	if ($1 == "door") library[$2] = $0
	next
}
FNR == 1 {
	here = folder(FILENAME)
	nfile++
	if (!(here in floor)) fault("the folder '" here "' is not in src/FLOORS")
}
/^#[ \t]*include[ \t]*[<"]/ {
	name = $0
	sub(/^#[ \t]*include[ \t]*[<"]/, "", name)
	sub(/[>"].*/, "", name)
	for (l in library)
		if ((name == l || index(name, l "/") == 1) && !((l, FILENAME) in door))
			fault("<" name "> may only be included where the doors say")
	there = name
	if (there !~ /^barwright\// && $0 !~ /"/) next
	sub(/^barwright\//, "", there)
	if (there !~ /\//) next
	there = substr(there, 1, index(there, "/") - 1)
	if (!(there in floor)) next
	if (there != here && floor[there] >= floor[here])
		fault(here " (floor " floor[here] ") may not include " there " (floor " floor[there] ")")
}
END {
	if (!nfile) { print "floors: no files were given"; exit 1 }
	if (faults) exit 1
	print "floors: " nfile " files, every include goes down"
}
