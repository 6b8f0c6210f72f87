using System.Security.Cryptography;
using ShopFloor.Documents.Imaging;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Security.Passkeys;

namespace ShopFloor.Web.Security.SecondSteps;

/// <summary>What an authenticator app is given.</summary>
/// <param name="Sealed">The key on its way through the page, closed for this worker.</param>
/// <param name="Key">The same to be typed, in groups of four.</param>
/// <param name="Drawing">The same to be scanned, SVG.</param>
public sealed record SecondStepOffer(string Sealed, string Key, string Drawing);

/// <summary>Switches the second step of the worker whose request this is on and off. Both want a session that began lately.</summary>
public sealed class OwnSecondStep(OwnSession session, SecretBox box, SwitchOnSecondStep on, SwitchOffSecondStep off, TimeProvider time)
{
    private const string Issuer = "ShopFloor";

    /// <summary>A key for the app: the one that is under way, else a new one.</summary>
    /// <param name="worker">Who is signed in here.</param>
    /// <param name="name">What they sign in as.</param>
    /// <param name="underway">What the form brought back.</param>
    /// <param name="title">What the drawing is.</param>
    public SecondStepOffer Offer(Guid worker, string name, string? underway, string title)
    {
        var key = KeyOf(worker, underway) ?? RandomNumberGenerator.GetBytes(AuthenticatorCode.KeyBytes);
        var text = AuthenticatorCode.Text(key);
        var label = Uri.EscapeDataString($"{Issuer}:{name}");
        return new SecondStepOffer(
            box.Close($"{worker} {Convert.ToBase64String(key)}"),
            string.Join(' ', text.Chunk(4).Select(c => new string(c))),
            QrCode.Of($"otpauth://totp/{label}?secret={text}&issuer={Issuer}").ToSvg(title)
        );
    }

    /// <summary>Switches it on when the code shows that the app has the key.</summary>
    /// <returns>The recovery codes, to be shown once.</returns>
    public async Task<Result<IReadOnlyList<string>>> SwitchOnAsync(Guid worker, string? underway, string? code, CancellationToken cancel)
    {
        if (!await session.IsNewAsync())
            return PasskeyRules.NotNew;
        if (KeyOf(worker, underway) is not { } key || AuthenticatorCode.Match(key, code ?? "", time.GetUtcNow(), last: 0) is not { } step)
            return new Refusal(
                "code-other",
                "This code does not fit. Look whether the clock of the device is right, and wait for the next one.",
                "AppCode"
            );
        var made = new NewSecondStep(key, step, RecoveryCodes.Make());
        var done = await on.RunAsync(Asked.By(worker), made, cancel);
        if (!done.IsOk)
            return Result<IReadOnlyList<string>>.Refused(done.Refusals);
        await session.GoOnAsync(worker, cancel);
        return Result<IReadOnlyList<string>>.Ok(made.Codes);
    }

    /// <summary>Switches it off.</summary>
    public async Task<Result<Done>> SwitchOffAsync(Guid worker, CancellationToken cancel)
    {
        if (!await session.IsNewAsync())
            return PasskeyRules.NotNew;
        var done = await off.RunAsync(Asked.By(worker), worker, cancel);
        if (done.IsOk)
            await session.GoOnAsync(worker, cancel);
        return done;
    }

    private byte[]? KeyOf(Guid worker, string? underway)
    {
        var open = string.IsNullOrEmpty(underway) ? null : box.Open(underway);
        return open?.Split(' ') is [var who, var key] && who == worker.ToString() ? Convert.FromBase64String(key) : null;
    }
}
