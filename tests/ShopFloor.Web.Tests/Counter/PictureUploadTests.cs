using System.Buffers.Binary;
using System.Net;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Pictures;

namespace ShopFloor.Web.Tests.Counter;

public sealed class PictureUploadTests
{
    [Fact]
    public async Task Post_APicture_IsOnTheDraftAndShownAsACopyOfOurs()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        var (status, text) = await SendAsync(counter, draft, CounterHost.Picture(), "../../beach.png");
        Assert.True(status == HttpStatusCode.OK, text);
        var came = Assert.Single((await OpenAsync(counter, draft)).Incoming);
        Assert.Equal((300, 200, "beach.png"), (came.Picture.Wide, came.Picture.High, came.Picture.Name));
        using var seen = await counter.Tablet.GetAsync(
            $"/counter/order/{draft}/pictures/{came.Picture.Id.Value}?finish=ShowThrough&material=ss"
        );
        Assert.Equal("image/webp", seen.Content.Headers.ContentType?.MediaType);
        Assert.Equal("nosniff", string.Join("", seen.Headers.GetValues("X-Content-Type-Options")));
    }

    [Fact]
    public async Task Post_TheSameUploadTwice_IsOnePicture()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        var upload = Guid.CreateVersion7();
        for (var i = 0; i < 2; i++)
            Assert.Equal(HttpStatusCode.OK, (await SendAsync(counter, draft, CounterHost.Picture(), "a.png", upload)).Status);
        Assert.Single((await OpenAsync(counter, draft)).Incoming);
    }

    [Fact]
    public async Task Keep_WhileAPictureComesIn_NeitherUndoesTheOther()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        var worker = await counter.WorkerAsync(WorkerRole.Counter);
        await SendAsync(counter, draft, CounterHost.Picture(), "a.png");
        var kept = await counter
            .Get<KeepDraft>()
            .RunAsync(Asked.By(worker), new KeepDraftInput(draft, 0, new OrderEntry { Name = "Ada" }, CounterStep.You, []));
        Assert.True(kept.IsOk);
        var now = await OpenAsync(counter, draft);
        Assert.Equal("Ada", now.Entry.Name);
        Assert.Single(now.Incoming);
    }

    [Theory]
    [InlineData("nothing.png", "empty")]
    [InlineData("text.png", "picture")]
    [InlineData("paper.pdf", ".pdf")]
    [InlineData("cut.png", "incomplete")]
    [InlineData("50000.png", "pixels")]
    public async Task Post_WhatIsNoPictureOfOurs_IsRefusedInWordsAndLeavesNothing(string name, string says)
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        var (status, text) = await SendAsync(counter, draft, File(name), name);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, status);
        Assert.Contains(says, text, StringComparison.OrdinalIgnoreCase);
        Assert.Empty((await OpenAsync(counter, draft)).Incoming);
    }

    [Fact]
    public async Task Post_MoreThanTheLimit_IsRefusedBeforeItIsRead()
    {
        await using var counter = await CounterHost.OpenAsync(("ShopFloor:UploadMegabytes", "1"));
        var draft = await counter.BeginAsync();
        var (status, text) = await SendAsync(counter, draft, new byte[1_300_000], "large.png");
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, status);
        Assert.Contains("larger than 1 MB", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Post_WithoutTheFormsToken_IsRefused()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        using var form = new MultipartFormDataContent { { new ByteArrayContent(CounterHost.Picture()), Uploads.FileField, "a.png" } };
        using var request = new HttpRequestMessage(HttpMethod.Post, Path(draft)) { Content = form };
        request.Headers.Add("X-Upload", Guid.CreateVersion7().ToString());
        using var answer = await counter.Tablet.SendAsync(request);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Empty((await OpenAsync(counter, draft)).Incoming);
    }

    [Fact]
    public async Task Phone_WithTheSecret_SendsWithoutSignInAndWithoutScript()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        var worker = await counter.WorkerAsync(WorkerRole.Counter);
        var token = (await counter.Get<AllowPhone>().RunAsync(Asked.By(worker), draft)).Value;
        using var phone = counter.Host.Client();
        using var form = new MultipartFormDataContent
        {
            { new StringContent(await CounterHost.TokenAsync(phone, $"/p/{token}")), "__RequestVerificationToken" },
            { new ByteArrayContent(CounterHost.Picture()), Uploads.FileField, "phone.png" },
        };
        using var answer = await phone.PostAsync($"/p/{token}/picture", form);
        Assert.Equal($"/p/{token}?sent=true", answer.Headers.Location?.ToString());
        Assert.Equal("phone.png", Assert.Single((await OpenAsync(counter, draft)).Incoming).Picture.Name);
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(1, 1)]
    [InlineData(-1, null)]
    [InlineData(null, 1)]
    public async Task Phone_WhateverTheTabletShowsNow_SendsForTheLineOfItsCode(int? shown, int? line)
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        var worker = await counter.WorkerAsync(WorkerRole.Counter);
        var entry = new OrderEntry { PhoneAt = shown }.Adding(new LineEntry());
        var kept = await counter.Get<KeepDraft>().RunAsync(Asked.By(worker), new KeepDraftInput(draft, 0, entry, CounterStep.Picture, []));
        Assert.True(kept.IsOk, kept.Refusals.FirstOrDefault()?.Text);

        var found = await counter.Get<PhoneUpload>().RunAsync((await counter.Get<AllowPhone>().RunAsync(Asked.By(worker), draft)).Value);

        Assert.Equal(line, found.IsOk ? found.Value.Line : null);
    }

    [Fact]
    public async Task Phone_WithAnOldSecretOrAfterTheWipe_SeesNothing()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        var worker = await counter.WorkerAsync(WorkerRole.Counter);
        var old = (await counter.Get<AllowPhone>().RunAsync(Asked.By(worker), draft)).Value;
        var token = (await counter.Get<AllowPhone>().RunAsync(Asked.By(worker), draft)).Value;
        using var phone = counter.Host.Client();
        Assert.Equal(HttpStatusCode.NotFound, (await phone.GetAsync($"/p/{old}")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await phone.GetAsync($"/p/{token}")).StatusCode);
        await counter.Get<WipeDraft>().RunAsync(Asked.By(worker), draft);
        using var gone = await phone.GetAsync($"/p/{token}");
        Assert.Equal(HttpStatusCode.NotFound, gone.StatusCode);
        Assert.Equal("no-referrer", string.Join("", gone.Headers.GetValues("Referrer-Policy")));
    }

    private static byte[] File(string name) =>
        name switch
        {
            "nothing.png" => [],
            "text.png" => "This is no picture, however it is called."u8.ToArray(),
            "cut.png" => CounterHost.Picture()[..^40],
            "50000.png" => Claims(50_000),
            _ => "%PDF-1.7"u8.ToArray(),
        };

    /// <summary>The head of a PNG that says it is that large, with right check sums (PNG, ISO/IEC 15948) and next to no data.</summary>
    private static byte[] Claims(int side)
    {
        var file = CounterHost.Picture();
        BinaryPrimitives.WriteInt32BigEndian(file.AsSpan(16), side);
        BinaryPrimitives.WriteInt32BigEndian(file.AsSpan(20), side);
        BinaryPrimitives.WriteUInt32BigEndian(file.AsSpan(29), Crc(file.AsSpan(12, 17)));
        return file;
    }

    private static uint Crc(ReadOnlySpan<byte> bytes)
    {
        var crc = uint.MaxValue;
        foreach (var b in bytes)
        {
            crc ^= b;
            for (var i = 0; i < 8; i++)
                crc = (crc >> 1) ^ (0xEDB88320 & (uint)-(int)(crc & 1));
        }
        return ~crc;
    }

    private static string Path(Guid draft) => $"/counter/order/{draft}/pictures?line=0&photo=false";

    private static Task<(HttpStatusCode Status, string Text)> SendAsync(
        CounterHost counter,
        Guid draft,
        byte[] file,
        string name,
        Guid? upload = null
    ) => CounterHost.SendAsync(counter.Tablet, "/counter", Path(draft), file, name, upload);

    private static async Task<KeptOrder> OpenAsync(CounterHost counter, Guid draft) =>
        (await counter.Get<OpenDraft>().RunAsync(await counter.WorkerAsync(WorkerRole.Counter), draft)).Value.Kept;
}
