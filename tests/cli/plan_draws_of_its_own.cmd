# plain
cat >p.json <<END
{ "draws":32, "seed":7, "spots":[{"id":"long","depth":"1.5m"}], "feed":[{"spot":"long","bait":"hard-4","count":12}] }
END
sed 's/"draws":32, "seed":7, //' p.json >bare.json
baitfall plan p.json >own; baitfall plan bare.json --draws 32 --seed 7 >said; cmp own said && echo "the plan's own draws and seed are taken"
baitfall plan p.json --draws 64 >over; baitfall plan bare.json --draws 64 --seed 7 >said; cmp over said && echo "the command line's come first"
baitfall peg p.json light left --plumbed 5m:1.4m >own; baitfall peg bare.json light left --plumbed 5m:1.4m --draws 32 --seed 7 >said
cmp own said && echo "at the peg, too"
rm -f own said over
