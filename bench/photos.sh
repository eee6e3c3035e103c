#!/bin/sh
# Makes a folder of pictures as a telephone takes them, to bring in thousands at
# once: ImageMagick draws them (4032 x 3024, with grain), ExifTool writes into
# each when it was taken and a preview. Each has its own content.
#
#     bench/photos.sh DIR 2000 2026-03-11 2026-03-18 ...
#
# spreads them evenly over the days. 2,000 of them take some 5 GB.
set -eu
dir=$1 all=$2
shift 2
mkdir -p "$dir"
cd "$dir"
bases=100
[ "$all" -gt "$bases" ] || bases=$all
base=$(mktemp -d)
trap 'rm -rf "$base"' EXIT
convert -size 1008x756 -seed 7 plasma:grey60-steelblue -resize 4032x3024! -seed 8 -attenuate 0.22 +noise Gaussian -depth 8 "$base/all.mpc"
n=0
while [ $n -lt "$bases" ]; do
	convert "$base/all.mpc" -roll "+$((n * 397 % 4032))+$((n * 211 % 3024))" -fill white -draw "rectangle $((n * 37 % 3000)),$((n * 53 % 2400)) $((n * 37 % 3000 + 700)),$((n * 53 % 2400 + 420))" \
		-sampling-factor 2x2 -quality 85 -strip "$base/$n.jpg"
	convert "$base/$n.jpg" -resize 160x120! -quality 60 -strip "$base/$n.small.jpg"
	n=$((n + 1))
done
days=$#
each=$(((all + days - 1) / days))
i=0
for day in "$@"; do
	k=0
	while [ $k -lt $each ] && [ $i -lt "$all" ]; do
		name=$(printf 'IMG_%05d.jpg' "$i")
		cp "$base/$((i % bases)).jpg" "$name"
		s=$((9 * 3600 + k * 20))
		printf -- '-overwrite_original\n-Make=Invented\n-Model=Slab 9\n-OffsetTimeOriginal=+01:00\n-DateTimeOriginal=%s %02d:%02d:%02d\n-ImageNumber=%d\n-ThumbnailImage<=%s\n%s\n-execute\n' \
			"$(echo "$day" | tr - :)" $((s / 3600)) $((s / 60 % 60)) $((s % 60)) "$i" "$base/$((i % bases)).small.jpg" "$name" >>"$base/args"
		i=$((i + 1)) k=$((k + 1))
	done
done
exiftool -q -q -@ "$base/args"
