#!/bin/sh
# Makes the pictures of this folder by programs that have nothing to do with
# this project (README.md says which). The checks only read them.
set -eu
cd "$(dirname "$0")/made"
rm -f ./*
upright=/tmp/upright-$$.png
convert -size 48x32 xc:white -fill red -draw 'rectangle 0,0 23,15' -fill lime -draw 'rectangle 24,0 47,15' -fill blue -draw 'rectangle 0,16 23,31' -depth 8 "$upright"
# Stored as a camera held that way stores it, with the mark that turns it back.
n=0
for op in '' -flop '-rotate 180' -flip -transpose '-rotate 270' -transverse '-rotate 90'; do
	n=$((n + 1))
	# shellcheck disable=SC2086
	convert "$upright" $op -strip -sampling-factor 1x1 -quality 95 "turn-$n.jpg"
	exiftool -q -overwrite_original -n -Orientation=$n "turn-$n.jpg"
	convert "turn-$n.jpg" -auto-orient "$upright.$n.png"
	convert "$upright" "$upright.$n.png" -metric AE -fuzz 12% -compare -format "turn-$n: %[distortion]\n" info:
done
convert "$upright" -resize 640x480! -quality 60 -strip zone.jpg
convert "$upright" -resize 160x120! -quality 60 -strip /tmp/thumb-$$.jpg
cp zone.jpg nozone.jpg
cp zone.jpg stripped.jpg
exiftool -q -overwrite_original -DateTimeOriginal='2026:03:11 14:05:31' -OffsetTimeOriginal=+01:00 -Make=Invented -Model='Box 3' \
	-GPSLatitude=12.5 -GPSLatitudeRef=N -GPSLongitude=34.5 -GPSLongitudeRef=W "-ThumbnailImage<=/tmp/thumb-$$.jpg" zone.jpg
exiftool -q -overwrite_original -DateTimeOriginal='2026:07:01 09:30:00' -Model='Box 3' nozone.jpg
convert "$upright" -depth 8 -strip time.png
exiftool -q -overwrite_original -DateTimeOriginal='2026:05:06 11:00:00' -OffsetTimeOriginal=+02:00 -Orientation#=6 time.png
convert "$upright" -resize 200x100! -strip -interlace JPEG progressive.jpg
convert "$upright" -colorspace Gray -strip gray.jpg
convert "$upright" -colorspace CMYK -strip cmyk.jpg
convert -size 40x30 gradient:red-blue -depth 16 -strip deep.png
convert -size 40x30 xc:none -strip clear.png
convert "$upright" -strip webp.jpg 2>/dev/null && convert "$upright" WEBP:webp.jpg || rm -f webp.jpg
convert "$upright" -resize 192x128! -strip /tmp/plain-$$.png
heif-enc -q 60 -o plain.heic /tmp/plain-$$.png >/dev/null
cp plain.heic time.heic
exiftool -q -overwrite_original -DateTimeOriginal='2026:06:17 10:15:00' -OffsetTimeOriginal=+02:00 -Orientation#=6 -GPSLatitude=1 -GPSLatitudeRef=N time.heic
# Films: a second and a half red, then blue; what ExifTool reads back of their
# times is what the checks want.
for film in 'film.webm 160x120 -c:v libvpx -b:v 30k' 'film.mp4 192x108 -metadata creation_time=2026-06-17T08:15:00Z -c:v libx264 -pix_fmt yuv420p'; do
	# shellcheck disable=SC2086
	set -- $film
	name=$1 size=$2
	shift 2
	ffmpeg -v error -y -f lavfi -i "color=c=red:s=$size:r=10:d=1.5" -f lavfi -i "color=c=blue:s=$size:r=10:d=1.5" \
		-filter_complex '[0][1]concat=n=2:v=1' "$@" -g 5 -fflags +bitexact -flags +bitexact "$name"
done
ffmpeg -v error -y -f lavfi -i color=c=red:s=160x120:r=10:d=1.5 -c:v libx264 -pix_fmt yuv420p -fflags +bitexact -movflags +faststart notime.mp4
rm -f "$upright"* /tmp/thumb-$$.jpg /tmp/plain-$$.png
